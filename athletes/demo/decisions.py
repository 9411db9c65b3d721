"""Trials, their decisions, and the meets of the invented clubs."""

from datetime import date, timedelta

from athletes.demo.lifters import Lifter
from athletes.demo.stories import COURSES
from athletes.models import Athlete, Attempt, Club, Decision, Meet, MeetEntry, Trial, User

STOP = ["pain of 4 of 10 or more in hip, groin or back", "the new stance cannot be held in two sessions running"]


def trial_of(lifter: Lifter, athlete: Athlete, coach: User, today: date) -> Trial | None:
    """The trial of a lifter's story, from the Monday of its first week; None for who tries no style."""
    course = COURSES.get(lifter.story)
    if course is None:
        return None
    start = today - timedelta(weeks=course.weeks_ago, days=0 if lifter.story.startswith("due") else 3)
    old_best, new_best = round(lifter.start_kg * 1.04), round(lifter.start_kg * 0.88)
    return Trial(
        athlete=athlete,
        new_style="sumo",
        old_style="conventional",
        started_on=start,
        weeks=course.weeks,
        pulls_a_week=1.5,
        old_style_plan="triples at about two thirds, once in ten days",
        baseline_new_typed=str(new_best),
        baseline_new_kg=new_best,
        baseline_old_typed=str(old_best),
        baseline_old_kg=old_best,
        baseline_unit="kg",
        success="more-work" if lifter.story == "adopted" else "more-weight",
        decide_on=start + timedelta(weeks=course.weeks),
        stop_rules=STOP,
        status="decided" if course.decided else "running",
        author=coach,
    )


def decision_of(lifter: Lifter, trial: Trial, coach: User) -> Decision | None:
    on = trial.decide_on
    if lifter.story == "due-level":
        on -= timedelta(weeks=4)
        verdict, style, why, words = (
            "extend",
            "",
            "Too near to call after twelve weeks.",
            "Four more weeks, then we decide.",
        )
    elif lifter.story.startswith("adopted"):
        verdict, style, why, words = (
            "adopt",
            "sumo",
            "Equal in weight after twelve weeks, and the back was quiet the day after.",
            "You pull as much and feel better for it: sumo it is.",
        )
    elif lifter.story in {"dropped", "back-link"}:
        verdict, style, why, words = (
            "drop",
            "conventional",
            ("Groin pain of 4 of 10 twice, and the" if lifter.story == "dropped" else "The")
            + " trial stayed below nine tenths of the old best.",
            "Your long arms serve you well where you were. Nothing lost.",
        )
    else:
        return None
    return Decision(
        athlete=trial.athlete,
        trial=trial,
        on=on,
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
        for lifter, athlete in (pair for pair in entrants if pair[0].story != "meet-near"):
            entry = MeetEntry.objects.create(
                meet=meet, athlete=athlete, style=lifter.style, important=meet is ahead and lifter.story == "back"
            )
            loads = [round(lifter.end_kg * share / 2.5) * 2.5 for share in shares]
            results = ("made", "made", "missed" if lifter.story == "back" else "made") if meet is past else ("", "", "")
            Attempt.objects.bulk_create(
                Attempt(entry=entry, number=n, load_typed=f"{load:g}", load_kg=load, result=result)
                for n, (load, result) in enumerate(zip(loads, results, strict=True), start=1)
            )
    soon = [pair for pair in entrants if pair[0].story == "meet-near"]
    if soon:
        meet = Meet.objects.create(club=club, name="Open rack day", day=today + timedelta(days=9), lifts=["deadlift"])
        MeetEntry.objects.bulk_create(MeetEntry(meet=meet, athlete=a, style=lifter.style) for lifter, a in soon)
