"""The bar and grip board of one lifter: what bars and straps give by statics and by the log, pull time by style."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from analysis.core.estimates.grip_and_bar import (
    bar_comparisons,
    findings_of_bars,
    findings_of_straps,
    held_findings,
    strap_comparisons,
)
from analysis.core.pull.lifter_postures import lifter_postures
from analysis.core.records.estimates import Comparison, RunningBest
from analysis.core.records.lifts import LifterRecord
from analysis.core.records.plain import CoreError
from analysis.core.records.terms import STYLES
from analysis.core.records.training import BarGain, BarGripBoard, GripBest
from analysis.core.records.weak_link import StrengthRange
from analysis.core.settings import DEFAULTS, Settings
from analysis.core.training.bar_gain import LoadAsked, bar_gains
from analysis.core.training.levels import Bests, bests_of, shares_by_key
from analysis.core.training.progress import linked
from analysis.core.training.timed import times_by_style
from analysis.core.training.work import latest

STRAIGHT_BARS = ("stiff", "training", "unknown", "flexible")
BAR_WORDS = {
    "stiff": "the stiff bar",
    "training": "the training bar",
    "unknown": "a bar not noted, taken as stiff",
    "flexible": "the flexible bar only, taken as stiff: a little too high",
}
MOST_BESTS = 16


def bar_grip_board(
    lifter: LifterRecord, as_of: date, settings: Settings = DEFAULTS, strengths: Sequence[StrengthRange] = ()
) -> BarGripBoard:
    """Everything the bar and grip page draws of one lifter as of a day; an empty log gives an empty board."""
    sets = tuple(s for s in lifter.sets if s.day <= as_of and s.tags.lift == "deadlift")
    bests = bests_of(sets, as_of, settings)
    bars = bar_comparisons(sets, as_of, settings)
    straps = strap_comparisons(sets, as_of, settings)
    gains, why = gains_of(lifter, loads_asked(bests), strengths, bars)
    return BarGripBoard(
        as_of=as_of,
        pulls=len(sets),
        gains=gains,
        bars=bars,
        straps=straps,
        times=times_by_style(sets, shares_by_key(sets, bests, as_of, settings)),
        bests=grip_bests(bests),
        findings=linked(
            (
                *findings_of_bars(bars, settings),
                *findings_of_straps(straps, settings),
                *held_findings(sets, as_of, settings),
            )
        ),
        why_no_gain=why,
    )


def loads_asked(bests: Bests) -> tuple[LoadAsked, ...]:
    """The best of every style to reckon a bar's gain at; a style not logged is held at the best of the main one."""
    own = {style: best for style in STYLES if (best := _floor_best(bests, style)) is not None}
    if not own:
        return ()
    main = max(own, key=lambda style: own[style].day_count)
    return tuple(_asked(style, own.get(style), own[main]) for style in STYLES if style in own or style != "wide-sumo")


def _floor_best(bests: Bests, style: str) -> RunningBest | None:
    """The style's floor kind on the stiffest bar that was logged, of these the one with most days."""
    floor = [b for k, b in bests.items() if k.tags.style == style and k.tags.start == "floor" and not k.tags.suit]
    ranked = [b for bar in STRAIGHT_BARS for b in floor if b.kind.tags.bar == bar]
    return ranked[0] if ranked else None


def _asked(style: str, own: RunningBest | None, main: RunningBest) -> LoadAsked:
    if own is not None:
        return LoadAsked(style, own.now_kg, own.sd_log[-1], f"running best on {BAR_WORDS[own.kind.tags.bar]}")
    words = f"the running best of {main.kind.tags.style.replace('-', ' ')}: nothing comparable is logged in this style"
    return LoadAsked(style, main.now_kg, main.sd_log[-1], words)


def gains_of(
    lifter: LifterRecord, asked: Sequence[LoadAsked], strengths: Sequence[StrengthRange], bars: Sequence[Comparison]
) -> tuple[tuple[BarGain, ...], str]:
    """Gains by statics beside the logged comparisons, or why there are none."""
    if not asked:
        return (), "No floor pull with a style, 1 to 8 reps and an effort of RPE 7 or more is logged yet."
    body = lifter.body
    logged: dict[str, Comparison] = {}
    for one in (b for b in bars if b.start == "floor"):
        logged.setdefault(one.style, one)
    try:
        gains = bar_gains(body, asked, strengths, logged, own=lifter_postures(lifter).own)
    except CoreError as error:
        return (), f"No prediction from statics: {error}."
    return gains, "" if gains else "The model cannot put this build into any of the styles."


def grip_bests(bests: Bests) -> tuple[GripBest, ...]:
    """Floor pulls by style, bar and grip, with and without straps, most days first."""
    rows = [b for k, b in bests.items() if k.tags.start == "floor" and k.tags.lift == "deadlift" and k.tags.style]
    return tuple(_grip_best(best) for best in rows[:MOST_BESTS])


def _grip_best(best: RunningBest) -> GripBest:
    tags, (low, high) = best.kind.tags, best.range_kg
    keys = latest([p.key for p in best.points])
    return GripBest(tags.style, tags.bar, tags.grip, tags.straps, best.now_kg, low, high, len(best.points), keys)
