"""Load on the lower back of one lifter: trunk moments from statics, sums and spacing from the log, and their marks.

A deadlift's greatest moment at L4/L5 is a line in the load at every height, worked out once for each style and start;
squats, hinges and rows have rougher lines of their own. It adds up what was held; it does not predict injury.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta
from functools import lru_cache
from itertools import pairwise
from math import isnan

import numpy as np
import numpy.typing as npt

from analysis.core.body.anthropometry import drawn_bodies
from analysis.core.body.body import Body
from analysis.core.estimates.comparable import places_by_tags
from analysis.core.pull.hinge import HINGES, hinge_moment
from analysis.core.records.bodies import BodyInput
from analysis.core.records.estimates import BackLoad, Finding
from analysis.core.records.lifts import LifterRecord, PullTags, SetRecord
from analysis.core.records.messages import Message, Quantity, Unit, as_message
from analysis.core.records.plain import CoreError
from analysis.core.records.terms import STYLES
from analysis.core.records.training import BackReview, BackWeek, HeavyPull
from analysis.core.records.weak_link import StrengthRange
from analysis.core.settings import DEFAULTS, Settings
from analysis.core.strength.constants import BACK_MULTIPLIER
from analysis.core.strength.demand_table import KindAsked, kind_demands
from analysis.core.training.back_load import BACK_LIFTS, back_load, with_soreness
from analysis.core.training.levels import bests_of, shares_by_key
from analysis.core.training.progress import linked
from analysis.core.training.work import latest

FloatArray = npt.NDArray[np.float64]
Lines = dict[tuple[object, ...], tuple[FloatArray, FloatArray]]  # by what a line depends on: a and b over the heights
TRUNK = 3  # row of the trunk in a demand
SHOWN = timedelta(weeks=52)
NO_LINE = (np.array([np.nan]), np.array([np.nan]))
SQUATS = ("squat", "front-squat")
SQUAT_WORDS = "parallel squats, bar over mid-foot"


def back_load_review(
    lifter: LifterRecord, as_of: date, settings: Settings = DEFAULTS, strengths: Sequence[StrengthRange] = ()
) -> BackReview:
    """Sums, weeks, spacing and findings as of a day; CoreError when the measurements are no body's.

    `strengths` are the weak-link estimate's ranges; without them the trunk's capacity is a usual trained lifter's.
    """
    body = lifter.body
    bodies, lines = _drawn(body.sex, tuple(sorted(body.measured_m.items())), tuple(sorted(body.sd_m.items())), body.age)
    sets = [s for s in lifter.sets if s.day <= as_of and s.tags.lift in BACK_LIFTS]
    moments = set_moments(sets, bodies, lifter.age, lines)
    shares = shares_by_key(sets, bests_of(sets, as_of, settings), as_of, settings)
    share = [shares.get(s.key, np.nan) for s in sets]
    capacity, words = trunk_capacity(bodies, lifter.age, strengths)
    open_load = back_load(sets, moments, share, (), as_of, settings, trunk_capacity_nm=capacity)
    return BackReview(
        load=replace(open_load, findings=()),
        capacity_nm=capacity,
        capacity_words=words,
        weeks=weeks_by_lift(sets, moments, as_of),
        heavy=heavy_pulls(sets, shares, as_of, settings),
        approximations=approximations(sets),
        left_out=left_out(sets, moments, as_of),
        findings=own_findings(with_soreness(open_load, sets, lifter.days, settings), sets, as_of),
    )


def trunk_capacity(bodies: Body, age: float | None, strengths: Sequence[StrengthRange]) -> tuple[float, str]:
    """The trunk's greatest moment in a conventional start, N m, and what its strength was taken from."""
    reference = float(kind_demands(bodies, age, [KindAsked("floor")])[0].capacity[TRUNK, 0])
    back = next((s.middle for s in strengths if s.link == "back"), None)
    if back is None:
        return BACK_MULTIPLIER * reference, "a usual trained lifter of this build (calibration)"
    return back * reference, "the strength that this log points to"


Lengths = tuple[tuple[str, float], ...]


@lru_cache(maxsize=256)
def _drawn(sex: str, measured: Lengths, spread: Lengths, age: float | None) -> tuple[Body, Lines]:
    """A body drawn, and the lines worked out for it: the same are asked for whenever a set is logged."""
    return drawn_bodies(BodyInput(sex, dict(measured), dict(spread), age), 1), {}


def set_moments(sets: Sequence[SetRecord], bodies: Body, age: float | None, known: Lines | None = None) -> FloatArray:
    """Greatest trunk moment of one rep of every set, N m; NaN where there is no model for it.

    `known` are lines of these bodies that are worked out already; new ones are added to them.
    """
    known = {} if known is None else known
    loads, found = np.array([s.load_kg for s in sets], float), np.full(len(sets), np.nan)
    for tags, here in places_by_tags(sets).items():
        same = _same_line(tags)
        if same not in known:
            known[same] = _line(tags, bodies, age)
        a, b = known[same]
        found[here] = (a[:, None] * loads[here] + b[:, None]).max(axis=0)
    return found


def _same_line(tags: PullTags) -> tuple[object, ...]:
    """What the line depends on: sets that share this share a and b."""
    return (tags.lift, tags.style, tags.bar.startswith("hex"), tags.shape, tags.start_offset_m, tags.disc_diameter_m)


def _line(tags: PullTags, bodies: Body, age: float | None) -> tuple[FloatArray, FloatArray]:
    """a (N m per kg) and b (N m) over the heights of one lift."""
    if tags.lift in HINGES:
        line = hinge_moment(bodies, tags.lift)
        return line.a, line.b
    if tags.lift == "deadlift" and (tags.style not in STYLES or tags.bar.startswith("hex")):
        return NO_LINE
    kind = KindAsked(
        "one",
        tags.lift,
        tags.style or "conventional",
        tags.shape,
        tags.start_offset_m,
        tags.disc_diameter_m,
    )
    try:
        demand = kind_demands(bodies, age, [kind])[0]
    except CoreError:
        return NO_LINE
    return demand.a[TRUNK, 0], demand.b[TRUNK, 0]


def weeks_by_lift(sets: Sequence[SetRecord], moments: FloatArray, as_of: date) -> tuple[BackWeek, ...]:
    """Moment times reps of each of the last 52 weeks by lift, oldest first; weeks count back from the day."""
    weeks: list[dict[str, float]] = [{} for _ in range(SHOWN.days // 7)]
    since = as_of - SHOWN
    for one, moment in zip(sets, moments.tolist(), strict=True):
        if one.day > since and not isnan(moment):
            week = weeks[(as_of - one.day).days // 7]
            week[one.tags.lift] = week.get(one.tags.lift, 0.0) + moment * max(one.reps_made, one.reps_tried)
    return tuple(
        BackWeek(as_of - timedelta(days=7 * back + 6), tuple(sorted(weeks[back].items())))
        for back in range(SHOWN.days // 7 - 1, -1, -1)
    )


def heavy_pulls(
    sets: Sequence[SetRecord], shares: Mapping[str, float], as_of: date, settings: Settings
) -> tuple[HeavyPull, ...]:
    """Days with a heavy pull in the last year by style and day, each with the days since the one before."""
    heavy = [s for s in sets if shares.get(s.key, 0.0) >= settings["load.heavy_share"] and s.tags.style in STYLES]
    found: list[HeavyPull] = []
    for style in STYLES:
        tops: dict[date, SetRecord] = {}
        for one in heavy:
            if one.tags.style == style and (one.day not in tops or one.load_kg > tops[one.day].load_kg):
                tops[one.day] = one
        days = sorted(tops)
        gaps = [None, *((b - a).days for a, b in pairwise(days))]
        found += [
            HeavyPull(style, d, tops[d].load_kg, round(shares[tops[d].key], 4), gap, tops[d].key)
            for d, gap in zip(days, gaps, strict=False)
            if d > as_of - SHOWN
        ]
    return tuple(sorted(found, key=lambda h: h.day))


def approximations(sets: Iterable[SetRecord]) -> tuple[str, ...]:
    """For each lift that has no posture of its own, in words, what was taken."""
    lifts = {s.tags.lift for s in sets}
    said = [f"{lift.replace('-', ' ')}: {hinge.words} (calibration)" for lift, hinge in HINGES.items() if lift in lifts]
    return (f"{SQUAT_WORDS} (from memory)", *said) if lifts & set(SQUATS) else tuple(said)


def left_out(sets: Sequence[SetRecord], moments: FloatArray, as_of: date) -> tuple[tuple[str, int], ...]:
    """Why sets of the last four weeks have no moment, with how many."""
    counts: dict[str, int] = {}
    since = as_of - timedelta(days=28)
    for one, moment in zip(sets, moments.tolist(), strict=True):
        if one.day > since and isnan(moment):
            reason = _why_not(one.tags)
            counts[reason] = counts.get(reason, 0) + 1
    return tuple(sorted(counts.items()))


def _why_not(tags: PullTags) -> str:
    if tags.bar.startswith("hex"):
        return "pulled with a hex bar: the load hangs beside the body, and there is no model for it"
    if tags.style not in STYLES:
        return "style not noted"
    return "a start this body cannot take in the model"


def own_findings(load: BackLoad, sets: Sequence[SetRecord], as_of: date) -> tuple[Finding, ...]:
    """The evidence's findings without the standing ones, a rise with the rows of the last four weeks."""
    lately = latest([s.key for s in sets if (as_of - s.day).days < 28])
    found = []
    for one in load.findings:
        if one.code in ("belcher-2019", "erectors-equal", "no-forecast"):
            continue
        found.append(replace(one, set_keys=one.set_keys or lately) if one.code.startswith("load-up") else one)
    return linked(found)


def in_capacity_reps(finding: Finding, capacity_nm: float) -> Finding:
    """A finding without N m, for readers who may not see body mass: the rise in reps at the trunk's full capacity."""
    if not finding.code.startswith("load-up"):
        return finding
    reps = Quantity(finding.number("more_nm") / capacity_nm, Unit.COUNT)
    text, rise = as_message(finding.text), Message("back.load-up-reps", {"reps": reps})
    if "rise" in text.values:
        rise = replace(text, values={**text.values, "rise": rise})
    return replace(finding, text=rise, numbers=())
