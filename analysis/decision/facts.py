"""Everything the one answer about style is made from, gathered once from rows and stored profiles of one athlete."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from math import log
from statistics import mean

from django.db.models import prefetch_related_objects

from analysis.core.pull.lifter_postures import settled_postures
from analysis.core.records.decision import (
    ActionKind,
    BackShape,
    BuildScore,
    Candidate,
    DecisionFacts,
    HealthFacts,
    LinkPosterior,
    StyleResult,
)
from analysis.core.records.estimates import RunningBest
from analysis.core.records.lifts import LifterRecord, SetRecord
from analysis.core.records.plain import CoreError
from analysis.core.styles.belief import belief
from analysis.core.styles.build import build_score
from analysis.core.styles.comparison import best_by_style, main_style, unlike
from analysis.decision.gear import bar_and_grip_of, stances_of
from analysis.decision.trials import left_styles, trial_of
from analysis.store.profiles import Payload, Sources
from analysis.trials.reading import closed_days
from athletes.models import Athlete
from athletes.schema.vocabulary import GaveWay, MissPosition, Result, Shape, Style

WINDOW = timedelta(weeks=12)  # misses and heavy sets that still speak for a lifter
SORE_WINDOW = timedelta(weeks=4)
HEAVY = 0.85  # share of the best from which a set shows how the back behaves
LEAST_DAYS = 4  # logged days of a style before its best is held against another's
BACK_SITES = ("lower-back", "upper-back")
ROUND = (Shape.ROUNDED_BEFORE, Shape.ROUNDED_DURING)
LEADING_LENGTHS = frozenset({"stature", "sitting_height", "arm_span", "standing_grip_height"})


def decision_facts(athlete: Athlete, sources: Sources) -> DecisionFacts:
    """The facts as of the sources' day."""
    lifter, day, numbers = sources.lifter, sources.as_of, sources.numbers
    sources.look_up("weak-link", "trial", "bar-and-grip")
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
        wishes_two_heavy_days=lifter.wishes_two_heavy_days,
        left_after_sessions=left_styles(athlete, lifter),
        important_meet=lifter.important_meet,
        trial=trial_of(athlete, sources, (main, other), belief(links, build, ())),
        back=back_of(lifter.sets, main, best, day),
        stance_m=lifter.comfortable_stance_m,
        stances=stances_of(lifter),
        bar_and_grip=bar_and_grip_of(athlete, sources, main, best),
        candidates=candidates_of(weak),
        holidays=closed_days(athlete.club, day),
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
        return build_score(lifter.body, settled_postures(lifter))
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
