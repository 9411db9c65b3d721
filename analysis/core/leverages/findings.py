"""What differs between an athlete's styles, in sentences made of their own numbers and ranges."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from analysis.core.pull.own_posture import taped
from analysis.core.records.lifts import LifterRecord
from analysis.core.records.postures import OwnPosture
from analysis.core.records.pulls import Estimate, SetupInput, StyleReport
from analysis.core.records.wording import compared, degrees, joined, percent, sentence, span_words

STYLE_WORDS = {"conventional": "conventional", "sumo": "sumo", "wide-sumo": "wide sumo", "rounded": "rounded"}
MINOR_AGE = 18
INNER_THIGH_NAMED = 0.15  # share of the hip moment from which the adductors are worth a sentence


@dataclass(frozen=True, slots=True)
class Quantity:
    """Something two styles are compared in: its key, the words for more and for less, the least worth naming."""

    key: str
    more: str
    less: str
    same: str
    smallest: float
    is_length: bool = False
    is_ratio: bool = False


# a range around zero that reaches no further than this many times the least difference worth naming is "about the same"
ALIKE_TIMES = 3.0
PULL_LENGTH = "range_of_motion_m"

GAINS = (
    Quantity("range_of_motion_m", "{} longer pull", "{} shorter pull", "length of the pull", 0.005, is_length=True),
    Quantity("hip_bar_distance_m", "hips {} farther from the bar", "hips {} closer to the bar",
             "hip-to-bar distance", 0.005, is_length=True),
    Quantity("trunk_angle_deg", "trunk {} more upright", "trunk {} more bent", "trunk angle", 1.0),
)  # fmt: skip
DEMANDS = (
    Quantity("trunk_moment_nm", "{} more work for the back", "{} less work for the back",
             "work for the back", 0.02, is_ratio=True),
    Quantity("hip_moment_nm", "{} more for the hips", "{} less for the hips", "work for the hips", 0.02,
             is_ratio=True),
    Quantity("knee_demand_nm", "{} more work for the legs", "{} less work for the legs", "work for the legs", 0.03,
             is_ratio=True),
)  # fmt: skip


def paired(first: StyleReport, second: StyleReport, key: str, ratio: bool = False) -> Estimate:
    """Second style less the first (or over it, less 1) at lift-off, over the same draws of body and habits.

    The value is the middle's, low and high the central 80 % of the draws that can take both styles.
    """
    a, b = first.draws[key], second.draws[key]
    change = b / a - 1.0 if ratio else b - a
    drawn = change[1:][np.isfinite(change[1:])]
    value = float(change[0])
    if drawn.size == 0:
        return Estimate(value, value, value)
    low, high = np.percentile(drawn, (10.0, 90.0))
    return Estimate(value, min(float(low), value), max(float(high), value))


@dataclass(frozen=True, slots=True)
class Difference:
    """One quantity of a style against another: paired difference, direction (-1, 0, 1) and words.

    `unsure` is a direction of 0 not because the styles are alike but because what is known does not tell.
    """

    key: str
    difference: Estimate
    direction: int
    words: str
    unsure: bool = False


def differences(
    first: StyleReport, second: StyleReport, length: Callable[[float], str], asked: Sequence[Quantity]
) -> tuple[Difference, ...]:
    """Each asked quantity of `second` against `first`, as a paired difference with words."""
    found = []
    for quantity in asked:
        change = paired(first, second, quantity.key, quantity.is_ratio)
        way = compared(change, quantity.smallest)
        words = _difference_words(quantity, change, way, length)
        unsure = way == 0 and max(-change.low, change.high) > ALIKE_TIMES * quantity.smallest
        found.append(Difference(quantity.key, change, way, words, unsure))
    return tuple(found)


def _difference_words(quantity: Quantity, change: Estimate, way: int, length: Callable[[float], str]) -> str:
    if way == 0:
        return quantity.same
    write = length if quantity.is_length else percent if quantity.is_ratio else degrees
    ends = sorted((abs(change.low), abs(change.high)))
    size = f"{write(abs(change.value))} ({span_words(ends[0], ends[1], write)})"
    return (quantity.more if way > 0 else quantity.less).format(size)


@dataclass(frozen=True, slots=True)
class StyleStory:
    """What one style changes for this athlete against another: sentences, and the differences they rest on."""

    style: str
    against: str
    sentences: tuple[str, ...]
    differences: tuple[Difference, ...]


def story(first: StyleReport, second: StyleReport, length: Callable[[float], str], demands: bool = True) -> StyleStory:
    """What `second` gives this athlete against `first`, its price, and what stays about the same.

    Ranges are the central 80 % of paired differences: both styles over the same draws of body and habits. A difference
    whose range holds zero is not named; unless the range is narrow it is said what would tell. Without `demands`
    nothing is said of moments, which between two bodies would tell their masses.
    """
    shape = differences(first, second, length, GAINS)
    load = differences(first, second, length, DEMANDS) if demands else ()
    inner = inner_thigh_words(second) if demands else ""
    name, other = _name(second), _name(first)
    moved = [_with_stance(d, second, length) for d in shape if d.direction]
    asked = [d.words for d in load if d.direction]
    same = [d.words for d in (*shape, *load) if not d.direction and not d.unsure]
    unsure = [d.words for d in (*shape, *load) if d.unsure]
    lines = []
    if moved:
        lines.append(f"{name} against {other}, at lift-off: {joined(moved)}")
    if asked:
        lines.append(f"The price: {joined(asked)}")
    if inner:
        lines.append(inner)
    if unsure:
        lines.append(f"{_what_decides(first, second)}: {joined(unsure)}")
    if same:
        lines.append(f"About the same: {joined(same)}")
    return StyleStory(second.name, first.name, tuple(sentence(line) for line in lines), (*shape, *load))


def _with_stance(one: Difference, second: StyleReport, length: Callable[[float], str]) -> str:
    """The difference in words; a length of the pull with the stance it belongs to, because the stance makes it."""
    if one.key != PULL_LENGTH or second.setup is None:
        return one.words
    return f"{one.words} at a stance of {length(second.setup.stance_m)} between the ankles"


def stands_measured(*styles: StyleReport) -> bool:
    """Whether stance and toes are measured, or fixed, in every one of the styles."""
    return all(s.setup is not None and taped(s.setup.covariance) for s in styles)


def _what_decides(first: StyleReport, second: StyleReport) -> str:
    if not stands_measured(first, second):
        return "How a lifter stands decides, so measure stance and toes"
    return "Too close to call from what is known of the posture"


def inner_thigh_words(report: StyleReport) -> str:
    """What the adductors hold beside the hip extensors, when it is more than a trifle; else nothing."""
    share = report.draws["adductor_moment_nm"] / report.draws["hip_moment_nm"]
    value, drawn = float(share[0]), share[1:][np.isfinite(share[1:])]
    if value < INNER_THIGH_NAMED:
        return ""
    low, high = np.percentile(drawn, (10.0, 90.0)) if drawn.size else (value, value)
    span = span_words(min(float(low), value), max(float(high), value), percent)
    return f"The inner thighs (adductors) do {percent(value)} ({span}) as much as the hips"


def _name(report: StyleReport) -> str:
    return STYLE_WORDS.get(report.name, report.name)


def rounding_story(flat: StyleReport, rounded: StyleReport, length: Callable[[float], str]) -> StyleStory:
    """What a rounded back changes for this athlete: to explain what may be seen in the gym, never as advice."""
    told = story(flat, rounded, length)
    closing = (
        "Rounded is drawn to explain what rounding trades, not as something to choose: the back then has to straighten "
        "under the load before lockout."
    )
    return StyleStory(told.style, told.against, (*told.sentences, closing), told.differences)


def may_see_rounded(lifter: LifterRecord) -> bool:
    """Whether rounding may be explained on this athlete's pages.

    Not to minors, beginners or anyone with a back-pain note (common practice, no source); an unknown age with the
    standing "under 18" counts as minor.
    """
    young = lifter.standing == "under-18" or (lifter.age is not None and lifter.age < MINOR_AGE)
    return not (young or lifter.standing == "beginner" or lifter.back_pain_noted)


@dataclass(frozen=True, slots=True)
class StanceLimit:
    """The widest stance (m) this athlete may be shown, and what sets it."""

    widest_m: float
    reason: str


ALIKE_M = 0.10  # two stances nearer than this are one style for the eye


def stance_limits(lifter: LifterRecord, between_discs_m: float) -> tuple[StanceLimit, ...]:
    """What bounds every stance of this athlete (m, ankle to ankle), the tightest first.

    `between_discs_m` is the room between the discs less the shoes; the other is the widest comfortable stance tried
    with a dowel at the first meeting.
    """
    limits = [StanceLimit(between_discs_m, "the room between the discs less the shoes")]
    if lifter.comfortable_stance_m is not None:
        pinch = ", where the hip pinched" if lifter.hip_pinch else ""
        reason = f"the widest comfortable stance tried with a dowel{pinch}"
        limits.append(StanceLimit(lifter.comfortable_stance_m, reason))
    return tuple(sorted(limits, key=lambda limit: limit.widest_m))


def bounded_setup(
    lifter: LifterRecord,
    preset: str,
    stance_m: float,
    limits: Sequence[StanceLimit],
    own: OwnPosture | None = None,
) -> SetupInput:
    """A style with its stance pulled in to the tightest limit; a comfortable turnout then bounds the turnout too.

    `own` is the lifter's own posture in the style: a measured stance is taken as it is, whatever the limits say.
    """
    widest = limits[0].widest_m
    if stance_m <= widest or own is not None:
        return SetupInput(preset=preset, own=own)
    return SetupInput(preset=preset, stance_m=widest, turnout_rad=lifter.comfortable_turnout_rad)


def asked_setups(
    lifter: LifterRecord,
    presets: Mapping[str, float],
    limits: Sequence[StanceLimit],
    own: Mapping[str, OwnPosture] | None = None,
) -> tuple[list[SetupInput], list[str]]:
    """The styles to show this athlete, and those left out because their bounded stance is another style's.

    `own` are the lifter's own postures by style; a rounded pull takes the conventional one. Rounded is asked for only
    where it may be explained.
    """
    known = dict(own or {})
    if "conventional" in known:
        known.setdefault("rounded", known["conventional"])
    setups: list[SetupInput] = []
    left_out: list[str] = []
    taken: list[float] = []
    for preset, stance in presets.items():
        mine = known.get(preset)
        setup = bounded_setup(lifter, preset, stance, limits, mine)
        usual = stance if mine is None else mine.value("stance_m")
        drawn = usual if setup.stance_m is None else setup.stance_m
        if preset == "rounded":
            setups += [setup] if may_see_rounded(lifter) else []
        elif any(abs(drawn - other) < ALIKE_M for other in taken):
            left_out.append(preset)
        else:
            taken.append(drawn)
            setups.append(setup)
    return setups, left_out
