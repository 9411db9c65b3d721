"""The same load costing more: RPE that crept up, pulls that got slower, big jumps within a session."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby, pairwise
from statistics import fmean

from analysis.core.estimates.comparable import kind_of, label
from analysis.core.records.estimates import ComparableKind, Finding
from analysis.core.records.lifts import SetRecord
from analysis.core.records.messages import Message, Quantity, Unit, Verbatim, load, share
from analysis.core.records.terms import written_day
from analysis.core.settings import DEFAULTS, Settings

FOUR_WEEKS = timedelta(days=28)


@dataclass(frozen=True, slots=True)
class RpeCreep:
    """The same kind, load and reps in two spans of four weeks: mean RPE then and now."""

    kind: ComparableKind
    load_kg: float
    reps: int
    before_rpe: float
    now_rpe: float
    set_keys: tuple[str, ...]


def rpe_of(one: SetRecord) -> float | None:
    """RPE of a set from its reps in reserve: 10 minus the middle of the range (Zourdos et al. 2016), or None."""
    known = [r for r in (one.rir_low, one.rir_high) if r is not None]
    return 10.0 - fmean(known) if known else None


def rpe_creeps(sets: Iterable[SetRecord], as_of: date, settings: Settings = DEFAULTS) -> tuple[RpeCreep, ...]:
    """Every kind, load and rep count whose mean RPE rose by the setting between two spans of four weeks."""
    found = []
    noted = [s for s in _recent(sets, as_of) if s.result == "made" and rpe_of(s) is not None]
    for before, now in _same_work(noted, as_of, settings):
        then, lately = (fmean(r for s in side if (r := rpe_of(s)) is not None) for side in (before, now))
        if lately - then >= settings["load.creep_rpe"]:
            keys = tuple(s.key for s in (*before, *now))
            found.append(RpeCreep(kind_of(now[0].tags), now[-1].load_kg, now[-1].reps_made, then, lately, keys))
    return tuple(found)


def slower_pulls(sets: Iterable[SetRecord], as_of: date, settings: Settings = DEFAULTS) -> tuple[Finding, ...]:
    """Same kind, load and reps pulled slower than in the four weeks before, by logged seconds."""
    found = []
    timed = [s for s in _recent(sets, as_of) if s.result == "made" and s.pull_seconds]
    for before, now in _same_work(timed, as_of, settings):
        then, lately = (fmean(s.pull_seconds or 0.0 for s in side) for side in (before, now))
        if lately >= then * (1.0 + settings["load.slower"]):
            seconds = {"now": Quantity(lately, Unit.SECOND), "before": Quantity(then, Unit.SECOND)}
            text = Message("log.slower", {"load": load(now[-1].load_kg), **seconds})
            numbers = (("before_s", then), ("now_s", lately))
            keys = tuple(s.key for s in (*before, *now))
            found.append(Finding("slower", text, "caution", numbers, keys))
    return tuple(found)


def _recent(sets: Iterable[SetRecord], as_of: date) -> list[SetRecord]:
    """The sets of the last eight weeks."""
    since = as_of - 2 * FOUR_WEEKS
    return [s for s in sets if since < s.day <= as_of]


def _same_work(
    sets: Iterable[SetRecord], as_of: date, settings: Settings
) -> Iterator[tuple[list[SetRecord], list[SetRecord]]]:
    """Sets of the same kind, reps and about the same load, in the four weeks before last and the last four."""
    groups: dict[tuple[ComparableKind, int], list[SetRecord]] = {}
    for one in _recent(sets, as_of):
        groups.setdefault((kind_of(one.tags), one.reps_made), []).append(one)
    for group in groups.values():
        for cluster in _clusters(group, settings["load.same_load"]):
            before = [s for s in cluster if s.day <= as_of - FOUR_WEEKS]
            now = [s for s in cluster if s.day > as_of - FOUR_WEEKS]
            if before and now:
                yield before, now


def _clusters(sets: Sequence[SetRecord], within: float) -> list[list[SetRecord]]:
    """Sets split where the load rises by more than `within`; each cluster in order of days."""
    clusters: list[list[SetRecord]] = []
    for one in sorted(sets, key=lambda s: s.load_kg):
        if clusters and one.load_kg <= clusters[-1][0].load_kg * (1.0 + within):
            clusters[-1].append(one)
        else:
            clusters.append([one])
    return [sorted(c, key=lambda s: s.day) for c in clusters]


def big_jumps(sets: Iterable[SetRecord], settings: Settings = DEFAULTS) -> tuple[Finding, ...]:
    """Steps up in load within one day and kind larger than the setting, when the heavier set was missed."""
    found = []
    rows = list(sets)
    with_misses = {s.day for s in rows if s.result == "missed"}
    rows = sorted([s for s in rows if s.day in with_misses], key=lambda s: s.day)
    for day, group in groupby(rows, key=lambda s: s.day):
        for before, after in pairwise(list(group)):
            if after.result != "missed" or before.load_kg <= 0 or kind_of(before.tags) != kind_of(after.tags):
                continue
            jump = after.load_kg / before.load_kg - 1.0
            if jump > settings["load.warm_up_jump"]:
                loads = {"from": load(before.load_kg), "to": load(after.load_kg), "jump": share(jump)}
                text = Message("log.big-jump", {"day": Verbatim(written_day(day)), **loads})
                found.append(Finding("big-jump", text, "note", (("jump", jump),), (before.key, after.key)))
    return tuple(found)


def kinds_in_words(creeps: Iterable[RpeCreep]) -> tuple[str, ...]:
    """The kinds of some creeps in plain words."""
    return tuple(label(c.kind) for c in creeps)
