"""The running best of one comparable kind: a filtered level with a band, not the maximum of noisy estimates."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from math import exp
from operator import attrgetter

import numpy as np

from analysis.core.estimates.comparable import group_sets, kind_of, label
from analysis.core.estimates.kept import LRUCache
from analysis.core.estimates.one_rep_max import Z80
from analysis.core.estimates.recompute import Array, KindSummary, summarize_kinds
from analysis.core.records.estimates import ComparableKind, RunningBest
from analysis.core.records.lifts import SetRecord
from analysis.core.records.plain import NotEnoughEvidence
from analysis.core.settings import DEFAULTS, Settings

MOST_KEPT = 60_000  # days; about 10 MB in one process
KEPT: LRUCache[tuple[str, ComparableKind], tuple[KindSummary, RunningBest]] = LRUCache(MOST_KEPT)
NOTHING_USABLE = "no made set of 1 to 8 reps at RPE 7 or more is logged yet"


def running_bests(
    sets: Iterable[SetRecord],
    as_of: date,
    settings: Settings = DEFAULTS,
    pooled: Sequence[str] = (),
    lifts: Sequence[str] = ("deadlift",),
) -> dict[ComparableKind, RunningBest]:
    """The running best of every comparable kind that has a usable set by `as_of`, most days first."""
    return bests_of_groups(group_sets((s for s in sets if s.tags.lift in lifts), pooled), as_of, settings)


def bests_of_groups(
    groups: Mapping[ComparableKind, Sequence[SetRecord]], as_of: date, settings: Settings = DEFAULTS
) -> dict[ComparableKind, RunningBest]:
    """The same of sets that are grouped already."""
    rows = [(kind, _until(group, as_of)) for kind, group in groups.items()]
    found = {
        kind: _best(kind, one, as_of)
        for (kind, _), one in zip(rows, summarize_kinds(rows, settings), strict=True)
        if one.used
    }
    return dict(sorted(found.items(), key=lambda item: -item[1].day_count))


def running_best(
    sets: Sequence[SetRecord],
    as_of: date,
    settings: Settings = DEFAULTS,
    kind: ComparableKind | None = None,
) -> RunningBest:
    """Filtered level of one kind up to `as_of`, with an 80 % band that grows over days without a set.

    log level follows a random walk whose variance grows with the days passed; each day gives one value (a real
    single if there is one, else the weighted mean of its estimates). Raises NotEnoughEvidence when no set up
    to that day can be used; its reason says what would help.
    """
    rows = _until(sets, as_of)
    if not rows:
        raise NotEnoughEvidence("running best", NOTHING_USABLE)
    kind = kind or kind_of(rows[0].tags)
    (one,) = summarize_kinds([(kind, rows)], settings)
    if not one.used:
        raise NotEnoughEvidence("running best", NOTHING_USABLE)
    return _best(kind, one, as_of)


def _until(sets: Iterable[SetRecord], as_of: date) -> tuple[SetRecord, ...]:
    """The sets up to a day, by day."""
    return tuple(sorted([s for s in sets if s.day <= as_of], key=attrgetter("day")))


def _best(kind: ComparableKind, one: KindSummary, as_of: date) -> RunningBest:
    """The settled level carried on to the day asked for; kept for the same level and day."""
    kept = KEPT.get((one.used[0].key, kind))
    if kept is not None and kept[0] is one and kept[1].as_of == as_of:
        return kept[1]
    best = _carried_on(kind, one, as_of)
    KEPT.keep((one.used[0].key, kind), (one, best), len(one.days))
    return best


def _carried_on(kind: ComparableKind, one: KindSummary, as_of: date) -> RunningBest:
    waited = one.drift * ((as_of - one.days[-1]).days / 28.0) ** 0.5
    level, sd = np.append(one.level, one.level[-1]), np.append(one.sd, np.hypot(one.sd[-1], waited))
    first = 1 if one.days[-1] == as_of else 0  # the as-of date is shown once
    keep = slice(0, len(one.days) + 1 - first)
    middle, low, high = (_tuple(np.exp(level + z * sd)[keep]) for z in (0.0, -Z80, Z80))
    return RunningBest(
        kind=kind,
        label=label(kind),
        as_of=as_of,
        days=(*one.days, as_of)[keep],
        level_kg=middle,
        low_kg=low,
        high_kg=high,
        sd_log=_tuple(sd[keep]),
        points=one.used,
        unused=one.left_out,
        singles=one.singles,
        drift_4_weeks=one.drift,
    )


def _tuple(values: Array) -> tuple[float, ...]:
    """Plain floats of an array."""
    return tuple(values.tolist())


def basis(best: RunningBest) -> str:
    """What a figure of this best holds and rests on, for its caption."""
    words = f"{best.label}: {len(best.points)} sets on {best.day_count} days"
    return f"{words}, {len(best.unused)} not used" if best.unused else words


def level_on(best: RunningBest, day: date) -> float | None:
    """Filtered level on the last known day up to `day`, kg, or None before the first."""
    place = bisect_right(best.days, day)
    return best.level_kg[place - 1] if place else None


def levels_of(
    sets: Sequence[SetRecord], bests: Mapping[ComparableKind, RunningBest], pooled: Sequence[str]
) -> dict[str, float | None]:
    """Set key -> level of the set's kind on its day, kg; None before the first, or where the kind has no best."""
    known: dict[int, RunningBest | None] = {}  # by the identity of the tags: there are few, and hashing them is slow
    found: dict[str, float | None] = {}
    for one in sets:
        place = id(one.tags)
        if place not in known:
            known[place] = bests.get(kind_of(one.tags, pooled))
        best = known[place]
        found[one.key] = None if best is None else level_on(best, one.day)
    return found


def sd_on(best: RunningBest, day: date) -> float | None:
    """SD of the log level on `day`, widened for the days since the last one known, or None before the first."""
    place = bisect_right(best.days, day)
    if not place:
        return None
    waited = (day - best.days[place - 1]).days
    return float(np.hypot(best.sd_log[place - 1], best.drift_4_weeks * (waited / 28.0) ** 0.5))


def range_at(level_kg: float, sd_log: float) -> tuple[float, float]:
    """80 % range about a level, kg."""
    return level_kg * exp(-Z80 * sd_log), level_kg * exp(Z80 * sd_log)
