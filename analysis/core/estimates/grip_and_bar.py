"""What straps and a flexible bar add in the log, pull time by style, and bests by start height."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from itertools import pairwise
from math import exp, hypot, log
from statistics import median

from analysis.core.estimates.comparable import group_sets, kind_of
from analysis.core.estimates.normal import normal_cdf
from analysis.core.estimates.one_rep_max import Z80
from analysis.core.estimates.running_best import bests_of_groups, level_on, running_bests, sd_on
from analysis.core.records.estimates import ComparableKind, Comparison, Finding, RunningBest, StartHeight
from analysis.core.records.lifts import SetRecord
from analysis.core.records.messages import Message, Quantity, Unit, Value, Verbatim, kg, load, more_kg, share
from analysis.core.records.terms import BAR_WORDS
from analysis.core.settings import DEFAULTS, Settings

LATEST_ROWS = 20  # of each side; the sets are counted in the text
PULL_TIME_BANDS = ((0.70, 0.80), (0.80, 0.90), (0.90, 1.001))


def strap_comparisons(sets: Iterable[SetRecord], as_of: date, settings: Settings = DEFAULTS) -> tuple[Comparison, ...]:
    """Best with straps against each own grip, per style and bar, all other tags equal (back shape set aside)."""
    pulls = [s for s in sets if s.tags.lift == "deadlift"]
    with_straps = running_bests([s for s in pulls if s.tags.straps], as_of, settings, ("shape", "grip"))
    groups = group_sets([s for s in pulls if not s.tags.straps], ("shape",))
    partners = {kind: _with(kind, straps=True, pooled=("shape", "grip")) for kind in groups}
    compared = {kind: group for kind, group in groups.items() if partners[kind] in with_straps}
    limit = settings["grip.limit_gain"]
    return tuple(
        _comparison(best, with_straps[partners[kind]], as_of, (kind.tags.grip, "straps"), limit)
        for kind, best in bests_of_groups(compared, as_of, settings).items()
    )


def bar_comparisons(
    sets: Iterable[SetRecord],
    as_of: date,
    settings: Settings = DEFAULTS,
    first: str = "stiff",
    second: str = "flexible",
) -> tuple[Comparison, ...]:
    """Best on a flexible bar against a stiff one per style, all other tags equal (back shape set aside)."""
    groups = group_sets([s for s in sets if s.tags.lift == "deadlift" and s.tags.bar in (first, second)], ("shape",))
    partners = {k: p for k in groups if k.tags.bar == first and (p := _with(k, bar=second, pooled=k.pooled)) in groups}
    compared = {kind: groups[kind] for kind in groups if kind in partners or kind in partners.values()}
    bests = bests_of_groups(compared, as_of, settings)
    return tuple(
        _comparison(best, bests[partners[kind]], as_of, (first, second), 0.0)
        for kind, best in bests.items()
        if partners.get(kind) in bests
    )


def _with(kind: ComparableKind, pooled: Sequence[str], **changes: object) -> ComparableKind:
    """The same kind with some tags changed."""
    return kind_of(replace(kind.tags, **changes), pooled)  # type: ignore[arg-type]


def _comparison(
    first: RunningBest, second: RunningBest, as_of: date, names: tuple[str, str], limit: float
) -> Comparison:
    """Difference of two running bests on a day, with its 80 % range and the chance that the gain exceeds a limit."""
    a, b = level_on(first, as_of) or first.now_kg, level_on(second, as_of) or second.now_kg
    sd = hypot(sd_on(first, as_of) or 0.0, sd_on(second, as_of) or 0.0)
    gain = log(b / a)
    return Comparison(
        style=first.kind.tags.style,
        bar=first.kind.tags.bar,
        first=names[0],
        second=names[1],
        first_kg=a,
        second_kg=b,
        difference_kg=b - a,
        low_kg=a * (exp(gain - Z80 * sd) - 1.0),
        high_kg=a * (exp(gain + Z80 * sd) - 1.0),
        gain=b / a - 1.0,
        chance_over_limit=float(1.0 - normal_cdf((log(1.0 + limit) - gain) / sd)),
        first_sets=len(first.points),
        second_sets=len(second.points),
        set_keys=(*_latest_keys(first), *_latest_keys(second)),
        start=first.label.split(", ")[1],
    )


def _latest_keys(best: RunningBest) -> tuple[str, ...]:
    """The latest rows a level rests on."""
    return tuple(p.key for p in best.points[-LATEST_ROWS:])


def grip_findings(sets: Sequence[SetRecord], as_of: date, settings: Settings = DEFAULTS) -> tuple[Finding, ...]:
    """Grip called limiting, not limiting or open per style, bar and grip; then loads lost to the hands alone."""
    compared = strap_comparisons(sets, as_of, settings)
    return (*findings_of_straps(compared, settings), *held_findings(sets, as_of, settings))


def findings_of_straps(compared: Iterable[Comparison], settings: Settings = DEFAULTS) -> tuple[Finding, ...]:
    """The words for comparisons with straps that are already at hand."""
    return tuple(_grip_words(c, settings) for c in compared)


def _grip_words(c: Comparison, settings: Settings) -> Finding:
    limit = settings["grip.limit_gain"]
    numbers = (("gain", c.gain), ("difference_kg", c.difference_kg), ("chance", c.chance_over_limit))
    values: dict[str, Value] = {
        "style": c.style,
        "bar": Verbatim(BAR_WORDS[c.bar]),
        "more": kg(c.difference_kg),
        "gain": share(c.gain, signed=True),
        "range": kg(c.difference_kg, c.low_kg, c.high_kg),
        "grip": c.first,
        "first": c.first_sets,
        "second": c.second_sets,
        "limit": share(limit),
    }
    if c.chance_over_limit >= 0.8:
        return Finding("grip-limits", Message("grip.limits", values), "caution", numbers, c.set_keys)
    if c.chance_over_limit <= 0.2:
        return Finding("grip-does-not-limit", Message("grip.does-not-limit", values), "note", numbers, c.set_keys)
    return Finding("grip-open", Message("grip.open", values), "note", numbers, c.set_keys)


def held_findings(sets: Sequence[SetRecord], as_of: date, settings: Settings = DEFAULTS) -> tuple[Finding, ...]:
    """Loads that opened the hands although straps held as much or more: a bound that needs no formula."""
    found = []
    rows = [s for s in sets if s.tags.lift == "deadlift" and s.day <= as_of]
    for same in group_sets(rows, ("grip", "straps", "shape", "belt")).values():
        opened = [s for s in same if s.gave_way == "grip-opened" and not s.tags.straps]
        strapped = [s for s in same if s.tags.straps and s.result == "made"]
        if opened and strapped:
            found += _held(opened, max(strapped, key=lambda s: s.load_kg), settings)
    return tuple(found)


def _held(opened: Sequence[SetRecord], held: SetRecord, settings: Settings) -> list[Finding]:
    lowest = min(s.load_kg for s in opened)
    gain = held.load_kg / lowest - 1.0
    if gain <= settings["grip.limit_gain"]:
        return []
    below = share(1 - lowest / held.load_kg)
    loads = {"lowest": load(lowest), "held": load(held.load_kg), "below": below}
    text = Message("grip.below-strength", {"times": len(opened), "reps": held.reps_made, **loads})
    numbers = (("gain", gain), ("misses", float(len(opened))), ("below", 1 - lowest / held.load_kg))
    return [Finding("grip-below-strength", text, "caution", numbers, (*(s.key for s in opened), held.key))]


def bar_findings(sets: Sequence[SetRecord], as_of: date, settings: Settings = DEFAULTS) -> tuple[Finding, ...]:
    """The flexible bar's gain per style in kg with its range and sets; with few sets it says so."""
    return findings_of_bars(bar_comparisons(sets, as_of, settings), settings)


def findings_of_bars(compared: Iterable[Comparison], settings: Settings = DEFAULTS) -> tuple[Finding, ...]:
    """The words for comparisons of bars that are already at hand."""
    found = []
    for c in compared:
        numbers = (("difference_kg", c.difference_kg), ("low_kg", c.low_kg), ("high_kg", c.high_kg))
        few = min(c.first_sets, c.second_sets) < settings["bar.least_sets"]
        values: dict[str, Value] = {
            "style": c.style,
            "more": more_kg(c.difference_kg),
            "range": more_kg(c.difference_kg, c.low_kg, c.high_kg),
            "first": c.first_sets,
            "second": c.second_sets,
        }
        text = Message("bar.flexible-few-sets" if few else "bar.flexible", values)
        found.append(Finding("flexible-bar", text, "note", numbers, c.set_keys))
    return tuple(found)


def pull_times(
    sets: Iterable[SetRecord], share: Mapping[str, float]
) -> tuple[tuple[str, float, float, float, int], ...]:
    """Median logged seconds of single deadlifts: (style, share from, share to, seconds, sets).

    share: set key -> load as a fraction of the running best on its day.
    """
    timed = [s for s in sets if s.tags.lift == "deadlift" and s.result == "made" and s.pull_seconds and s.key in share]
    rows = []
    for style in sorted({s.tags.style for s in timed}):
        for low, high in PULL_TIME_BANDS:
            band = [s.pull_seconds or 0.0 for s in timed if s.tags.style == style and low <= share[s.key] < high]
            if band:
                rows.append((style, low, high, median(band), len(band)))
    return tuple(rows)


def start_heights(
    sets: Iterable[SetRecord], as_of: date, style: str, settings: Settings = DEFAULTS
) -> tuple[StartHeight, ...]:
    """Best at each start height of one style, lowest start first; the most logged kind of each height is used."""
    rows = (s for s in sets if s.tags.style == style)
    heights: dict[float, RunningBest] = {}
    for kind, best in running_bests(rows, as_of, settings, ("shape",)).items():
        heights.setdefault(kind.tags.start_offset_m, best)
    return tuple(
        StartHeight(height, best.now_kg, *best.range_kg, len(best.points), _latest_keys(best))
        for height, best in sorted(heights.items())
    )


def order_findings(series: Sequence[StartHeight], settings: Settings = DEFAULTS) -> tuple[Finding, ...]:
    """A higher start that lifts less than a lower one: a finding, not an error."""
    found = []
    for lower, higher in pairwise(series):
        if lower.level_kg > higher.level_kg * (1.0 + settings["block.order_margin"]):
            values: dict[str, Value] = {
                "lower": kg(lower.level_kg),
                "lower_start": Quantity(lower.height_m, Unit.METRE, signed=True),
                "higher": kg(higher.level_kg),
                "higher_start": Quantity(higher.height_m, Unit.METRE, signed=True),
                "lower_sets": lower.sets,
                "higher_sets": higher.sets,
            }
            text = Message("log.start-height-order", values)
            numbers = (("lower_kg", lower.level_kg), ("higher_kg", higher.level_kg))
            found.append(Finding("start-height-order", text, "note", numbers, (*lower.set_keys, *higher.set_keys)))
    return tuple(found)
