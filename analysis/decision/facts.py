"""Everything the one answer about style is made from, gathered once from rows and stored profiles of one athlete."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from math import log
from statistics import mean

from django.db.models import prefetch_related_objects

from analysis.core.records.decision import (
    ActionKind,
    BackShape,
    BarAndGrip,
    BuildScore,
    Candidate,
    DecisionFacts,
    HealthFacts,
    LinkPosterior,
    StyleResult,
    TrialFacts,
)
from analysis.core.records.estimates import RunningBest, TrialPoint, TrialVerdict
from analysis.core.records.lifts import LifterRecord, SetRecord
from analysis.core.records.plain import CoreError
from analysis.core.settings import Settings
from analysis.core.styles.belief import belief
from analysis.core.styles.build import build_score
from analysis.core.styles.comparison import best_by_style, main_style, unlike
from analysis.core.trials.rule import gain_of, heavy_days, trial_prior
from analysis.store.profiles import Payload, Sources
from analysis.trials.reading import picture_distances, running_trial, verdict_of
from athletes.models import Athlete, Trial
from athletes.schema.vocabulary import GaveWay, MissPosition, Result, Shape, Style, SuccessMeasure, Verdict

WINDOW = timedelta(weeks=12)  # misses and heavy sets that still speak for a lifter
DECIDED_FOR = timedelta(weeks=26)  # a recorded decision is the answer for half a year
SORE_WINDOW = timedelta(weeks=4)
HEAVY = 0.85  # share of the best from which a set shows how the back behaves
LEAST_DAYS = 4  # logged days of a style before its best is held against another's
BACK_SITES = ("lower-back", "upper-back")
ROUND = (Shape.ROUNDED_BEFORE, Shape.ROUNDED_DURING)
CLOSED_DAYS = ((1, 1), (12, 24), (12, 25), (12, 26), (12, 31))  # month, day: no decision falls on them; common practice
LEADING_LENGTHS = frozenset({"stature", "sitting_height", "arm_span", "standing_grip_height"})


def decision_facts(athlete: Athlete, sources: Sources) -> DecisionFacts:
    """The facts as of the sources' day."""
    lifter, day, numbers = sources.lifter, sources.as_of, sources.numbers
    prefetch_related_objects([athlete], "style_records")
    years = {row.style: float(row.years) for row in athlete.style_records.all() if row.years}
    bests = best_by_style(lifter, day, numbers)
    main = main_style(bests, years) or Style.CONVENTIONAL.value
    other = Style.SUMO.value if main == Style.CONVENTIONAL else Style.CONVENTIONAL.value
    weak = sources.profile("weak-link")
    links, build, results = links_of(weak, lifter, day), build_of(lifter), results_of(bests, main, other)
    best = bests[main].now_kg if main in bests else None
    heavy_on = [one.day for one in lifter.sets if best and one.load_kg >= HEAVY * best]
    return DecisionFacts(
        day=day,
        main_style=main,
        other_style=other,
        standing=lifter.standing,
        age=lifter.age,
        measured=lifter.measurements_m.keys() >= LEADING_LENGTHS,
        logged_days=len({one.day for one in lifter.sets if one.tags.lift == "deadlift"}),
        best_kg=best,
        years=years,
        links=links,
        build=build,
        results=results,
        health=health_of(lifter, day),
        important_meet=lifter.next_meet,
        trial=trial_of(athlete, sources, (main, other), belief(links, build, ())),
        back=back_of(lifter.sets, main, best, day),
        stance_m=lifter.comfortable_stance_m,
        bar_and_grip=BarAndGrip(),
        candidates=candidates_of(weak),
        holidays=frozenset(date(year, *one) for year in (day.year, day.year + 1) for one in CLOSED_DAYS),
        hours_since_heavy=24.0 * (day - max(heavy_on)).days if heavy_on else None,
    )


def links_of(weak: Payload, lifter: LifterRecord, day: date) -> LinkPosterior | None:
    """What the stored weak-link profile says, None where it has no estimate."""
    if not weak["styles"]:
        return None
    recent = [one for one in lifter.sets if day - WINDOW <= one.day <= day and one.tags.lift == "deadlift"]
    round_lockouts = sum(
        MissPosition.LOCKOUT in one.miss_positions and one.gave_way == GaveWay.STRAIGHT_BUT_ROUND for one in recent
    )
    named = weak["status"] == "named"
    return LinkPosterior(
        legs_over_back=weak["legs_over_back"],
        reliability=weak["legs_reliability"],
        chances={s["style"]: {c["link"]: c["chance"] for c in s["chances"]} for s in weak["styles"]},
        named={s["style"]: s["limiter"] if named else "" for s in weak["styles"]},
        misses=weak["counts"]["misses"],
        slow_lifts=sum(one.slowest_at != "" for one in recent),
        lockout_round_misses=round_lockouts,
    )


def build_of(lifter: LifterRecord) -> BuildScore | None:
    """The build score; None without a stature or where this body cannot take both stances."""
    if "stature" not in lifter.measurements_m:
        return None
    try:
        return build_score(lifter.body)
    except CoreError:
        return None


def results_of(bests: Mapping[str, RunningBest], main: str, other: str) -> tuple[StyleResult, ...]:
    """ln(sumo / conventional) of logged bests, where both are trained and comparable."""
    pair = (bests.get(main), bests.get(other))
    if pair[0] is None or pair[1] is None or unlike(pair[0], pair[1]):
        return ()
    if min(one.day_count for one in pair if one) < LEAST_DAYS:
        return ()
    sumo, conventional = pair if main != Style.CONVENTIONAL else pair[::-1]
    assert sumo is not None and conventional is not None
    sd = (sumo.sd_log[-1] ** 2 + conventional.sd_log[-1] ** 2) ** 0.5
    return (StyleResult(log(sumo.now_kg / conventional.now_kg), sd),)


def health_of(lifter: LifterRecord, day: date) -> HealthFacts:
    """Pain, back notes, the mean of each week's highest back soreness of four weeks (0-10), a pinching stance."""
    weeks: dict[int, int] = {}
    for one in lifter.days:
        if day - SORE_WINDOW < one.day <= day and one.soreness is not None and one.soreness_site in BACK_SITES:
            week = (day - one.day).days // 7
            weeks[week] = max(weeks.get(week, 0), one.soreness)
    sore = mean(weeks.values()) if len(weeks) >= 2 else None
    return HealthFacts(lifter.pain_noted, lifter.back_pain_noted, sore, lifter.hip_pinch)


def back_of(sets: Sequence[SetRecord], style: str, best_kg: float | None, day: date) -> BackShape:
    """How the back was seen at heavy sets of the main style in twelve weeks."""
    if best_kg is None:
        return BackShape()
    heavy = [
        one
        for one in sets
        if one.tags.style == style and day - WINDOW <= one.day <= day and one.load_kg >= HEAVY * best_kg
    ]
    flat = [one for one in heavy if one.tags.shape == Shape.FLAT]
    rounded = [one for one in heavy if one.tags.shape in ROUND]
    return BackShape(
        seen=len(flat) + len(rounded),
        round=len(rounded),
        bends_from_kg=min((one.load_kg for one in rounded), default=None),
        flat_best_kg=_heaviest(flat),
        round_best_kg=_heaviest(rounded),
    )


def _heaviest(sets: Sequence[SetRecord]) -> float | None:
    """Heaviest made load, kg; None when none was made."""
    return max((one.load_kg for one in sets if one.result == Result.MADE), default=None)


def candidates_of(weak: Payload) -> tuple[Candidate, ...]:
    """Tests the log would learn from, by expected information; film waits until stills are read for the link."""
    offers = [weak["next_test"], *weak["other_tests"]]
    nats = log(2.0)  # of one bit; the ranking counts rises of the log score
    return tuple(
        Candidate(ActionKind.TEST, str(offer["key"]), nats * offer["information_bits"], heavy=True)
        for offer in offers
        if offer
    )


def trial_of(
    athlete: Athlete, sources: Sources, styles: tuple[str, str], before: tuple[float, float]
) -> TrialFacts | None:
    """A running trial as the log has it, or the last one decided within half a year."""
    day, numbers = sources.as_of, sources.numbers
    running = running_trial(athlete)
    if running is None:
        return decided_trial(athlete, day)
    hips = picture_distances(running, day)
    verdict = verdict_of(running, day, hips, lifter=sources.lifter, numbers=numbers)
    return running_facts(running, verdict, sources.lifter, numbers, before)


def decided_trial(athlete: Athlete, day: date) -> TrialFacts | None:
    """The trial of the latest recorded decision of half a year."""
    last = athlete.decisions.select_related("trial").filter(trial__isnull=False, on__gt=day - DECIDED_FOR).first()
    if last is None or last.trial is None or last.verdict == Verdict.EXTEND:
        return None
    trial = last.trial
    decided = "new" if last.verdict == Verdict.ADOPT else "old"
    return TrialFacts(trial.new_style, trial.old_style, trial.started_on, trial.decide_on, decided=decided)


def running_facts(
    trial: Trial, verdict: TrialVerdict, lifter: LifterRecord, numbers: Settings, before: tuple[float, float]
) -> TrialFacts:
    """The running trial with what its posterior, begun at the belief before it, makes of the log."""
    style_of = {one.key: one.tags.style for one in lifter.sets}
    load_of = {one.key: one.load_kg for one in lifter.sets}
    new, old = split_points(verdict.points, style_of, trial.new_style)
    sign = 1.0 if trial.new_style != Style.CONVENTIONAL else -1.0
    prior = trial_prior(sign * before[0], before[1], numbers)
    gain = gain_of(old, new, prior, numbers) if new and old else None
    heading = verdict.heading
    return TrialFacts(
        new_style=trial.new_style,
        old_style=trial.old_style or Style.CONVENTIONAL.value,
        begins=trial.started_on,
        decision_day=trial.decide_on,
        days=verdict.sessions,
        days_planned=max(round(verdict.planned_sessions), 1),
        heavy_days=heavy_days(new, load_of, numbers),
        gain=float(gain.gain) if gain else 0.0,
        loss=float(gain.loss) if gain else 0.0,
        chance_better=float(gain.chance) if gain else 0.5,
        chance_not_worse=float(gain.chance) if gain else 0.5,
        old_kg=heading.old_kg if heading else trial.baseline_old_kg,
        estimate_kg=(heading.heading_low_kg, heading.heading_high_kg) if heading else None,
        success="weight" if trial.success == SuccessMeasure.MORE_WEIGHT else "hard-sets",
        old_kept=len(old) >= 2,
        gain_threshold_met=verdict.word == "adopt",
        pain=lifter.pain_noted,
    )


def split_points(
    points: Sequence[TrialPoint], style_of: Mapping[str, str], new_style: str
) -> tuple[list[TrialPoint], list[TrialPoint]]:
    """Daily values of the new and of the old style."""
    new = [p for p in points if any(style_of.get(key) == new_style for key in p.set_keys)]
    return new, [p for p in points if p not in new]
