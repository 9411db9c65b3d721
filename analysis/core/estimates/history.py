"""The long view: best of each style and of all time, gaps in the log, and a best that fell suddenly."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise

from analysis.core.estimates.comparable import group_sets
from analysis.core.estimates.one_rep_max import set_estimates
from analysis.core.records.estimates import Finding
from analysis.core.records.lifts import DayRecord, SetRecord
from analysis.core.records.messages import HEALTH, Message, Quantity, Unit, Value, Verbatim, kg, share
from analysis.core.records.terms import written_day
from analysis.core.settings import DEFAULTS, Settings

BEFORE_A_FALL = timedelta(days=84)


@dataclass(frozen=True, slots=True)
class HeaviestLift:
    """The heaviest made deadlift of a style ("" in `style`: of all), floor start only."""

    style: str
    load_kg: float
    day: date
    key: str


@dataclass(frozen=True, slots=True)
class Gap:
    """A pause in pulls; `after_pain` when a pain event or a set stopped for pain stands just before or in it."""

    begins: date
    ends: date
    after_pain: bool


def floor_deadlifts(sets: Iterable[SetRecord]) -> list[SetRecord]:
    """Made deadlifts from the floor with a straight bar: blocks, deficits and hex bars stay apart."""
    return [
        s
        for s in sets
        if s.tags.lift == "deadlift"
        and s.result == "made"
        and s.tags.start == "floor"
        and not s.tags.start_offset_m
        and not s.tags.bar.startswith("hex")
    ]


def heaviest_lifts(sets: Iterable[SetRecord]) -> tuple[HeaviestLift, ...]:
    """The heaviest of all time first (style ""), then of each style."""
    rows = floor_deadlifts(sets)
    if not rows:
        return ()
    tops = [_heaviest("", rows)]
    for style in sorted({s.tags.style for s in rows if s.tags.style}):
        tops.append(_heaviest(style, [s for s in rows if s.tags.style == style]))
    return tuple(tops)


def _heaviest(style: str, rows: Sequence[SetRecord]) -> HeaviestLift:
    top = max(rows, key=lambda s: (s.load_kg, -s.day.toordinal()))
    return HeaviestLift(style, top.load_kg, top.day, top.key)


def gaps(
    sets: Iterable[SetRecord], days: Iterable[DayRecord], as_of: date, settings: Settings = DEFAULTS
) -> tuple[Gap, ...]:
    """Pauses longer than the setting between days with deadlifts, the last one up to `as_of`."""
    rows = [s for s in sets if s.tags.lift == "deadlift" and s.day <= as_of]
    painful = {d.day for d in days if d.pain_event} | {s.day for s in rows if s.result == "stopped-pain"}
    pulled = sorted({s.day for s in rows})
    found = []
    for first, second in pairwise([*pulled, as_of] if pulled else []):
        if (second - first).days > settings["best.gap_days"]:
            pain = any(first - timedelta(days=7) <= day <= second for day in painful)
            found.append(Gap(first, second, pain))
    return tuple(found)


def sudden_falls(
    sets: Iterable[SetRecord], days: Iterable[DayRecord], as_of: date, settings: Settings = DEFAULTS
) -> tuple[Finding, ...]:
    """Kinds whose best of the last days lies far below that of the twelve weeks before; pain is named first.

    Where one is found no weak link is read from those days: the cause is sought elsewhere.
    """
    notes = list(days)
    found = []
    first = as_of - timedelta(days=settings["best.fall_days"]) - BEFORE_A_FALL
    rows = [s for s in sets if s.tags.lift == "deadlift" and first <= s.day <= as_of]
    for group in group_sets(rows, ("shape",)).values():
        fall = _fall(group, as_of, settings)
        if fall is not None:
            found.append(_fall_finding(*fall, notes, as_of, settings))
    return tuple(found)


def _fall(group: Sequence[SetRecord], as_of: date, settings: Settings) -> tuple[float, float, tuple[str, ...]] | None:
    """Best then (estimated), heaviest made now, and the rows, when the fall passes the setting."""
    since = as_of - timedelta(days=settings["best.fall_days"])
    lately = [s for s in group if s.day > since]
    before = [e for e in set_estimates(group, settings) if e.used and since - BEFORE_A_FALL <= e.day <= since]
    tried = [s for s in lately if s.result != "made"]
    made = max((s.load_kg for s in lately if s.result == "made"), default=0.0)
    estimated = max((e.estimate_kg for e in set_estimates(lately, settings) if e.used), default=0.0)
    now = max(made, estimated)
    if not before or not lately or not tried:
        return None  # light days alone are no fall: something heavier must have been missed or stopped
    then = max(e.estimate_kg for e in before)
    if now <= 0.0:
        return None  # one missed single and nothing made: not even a level to have fallen to
    if now >= then * (1.0 - settings["best.fall_alert"]):
        return None
    return then, now, tuple(s.key for s in lately)


def _fall_finding(
    then: float, now: float, keys: tuple[str, ...], notes: Sequence[DayRecord], as_of: date, settings: Settings
) -> Finding:
    pain = [d for d in notes if d.pain_event and as_of - timedelta(days=28) <= d.day <= as_of]
    values: dict[str, Value] = {
        "then": kg(then),
        "now": kg(now),
        "days": Quantity(settings["best.fall_days"], Unit.DAY),
        "change": share(now / then - 1, signed=True),
    }
    text = Message("log.sudden-fall", values)
    if pain:
        text = Message("log.fall-after-pain", {"fall": text, "day": Verbatim(written_day(pain[0].day))}, private=HEALTH)
    numbers = (("then_kg", then), ("now_kg", now), ("change", now / then - 1), ("pain_events", float(len(pain))))
    return Finding("sudden-fall", text, "stop" if pain else "caution", numbers, keys)
