"""Trials, their decisions, and the meets of the invented clubs."""

from datetime import date, timedelta

from athletes.demo.lifters import Lifter
from athletes.models import Athlete, Attempt, Club, Decision, Meet, MeetEntry, Trial, User

STOP = ["pain of 4 of 10 or more in hip, groin or back", "the new stance cannot be held in two sessions running"]


def trial_of(lifter: Lifter, athlete: Athlete, coach: User, today: date) -> Trial | None:
    """One running, one adopted, one dropped; nobody else tries a style."""
    started = {"trial": 7, "adopted": 56, "dropped": 22}.get(lifter.story)
    if started is None:
        return None
    start = today - timedelta(weeks=started, days=7)
    old_best, new_best = round(lifter.start_kg * 1.04), round(lifter.start_kg * 0.88)
    return Trial(
        athlete=athlete,
        new_style="sumo",
        old_style="conventional",
        started_on=start,
        weeks=12,
        pulls_a_week=1.5,
        old_style_plan="triples at about two thirds, once in ten days",
        baseline_new_typed=str(new_best),
        baseline_new_kg=new_best,
        baseline_old_typed=str(old_best),
        baseline_old_kg=old_best,
        baseline_unit="kg",
        success="more-work" if lifter.story == "adopted" else "more-weight",
        decide_on=start + timedelta(weeks=12),
        stop_rules=STOP,
        status="running" if lifter.story == "trial" else "decided",
        author=coach,
    )


def decision_of(lifter: Lifter, trial: Trial, coach: User) -> Decision | None:
    if lifter.story == "adopted":
        verdict, style, why, words = (
            "adopt",
            "sumo",
            "Equal in weight after twelve weeks, and the back was quiet the day after.",
            "You pull as much and feel better for it: sumo it is.",
        )
    elif lifter.story == "dropped":
        verdict, style, why, words = (
            "drop",
            "conventional",
            "Groin pain of 4 of 10 twice, and the trial stayed below nine tenths of the old best.",
            "Your long arms serve you well where you were. Nothing lost.",
        )
    else:
        return None
    return Decision(
        athlete=trial.athlete,
        trial=trial,
        on=trial.decide_on,
        verdict=verdict,
        main_style=style,
        reasons=why,
        words_for_athlete=words,
        decided_by=coach,
    )


def add_meets(club: Club, entrants: list[tuple[Lifter, Athlete]], today: date) -> None:
    """A past meet with its results and one to come with planned attempts."""
    past = Meet.objects.create(club=club, name="Spring rooms meet", day=today - timedelta(days=120), lifts=["deadlift"])
    ahead = Meet.objects.create(club=club, name="Autumn rooms meet", day=today + timedelta(days=40), lifts=["deadlift"])
    for meet, shares in ((past, (0.89, 0.94, 0.985)), (ahead, (0.90, 0.955, 1.0))):
        for lifter, athlete in entrants:
            entry = MeetEntry.objects.create(
                meet=meet, athlete=athlete, style=lifter.style, important=meet is ahead and lifter.story == "back"
            )
            loads = [round(lifter.end_kg * share / 2.5) * 2.5 for share in shares]
            results = ("made", "made", "missed" if lifter.story == "back" else "made") if meet is past else ("", "", "")
            Attempt.objects.bulk_create(
                Attempt(entry=entry, number=n, load_typed=f"{load:g}", load_kg=load, result=result)
                for n, (load, result) in enumerate(zip(loads, results, strict=True), start=1)
            )
