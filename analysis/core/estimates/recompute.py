"""What the sets of one comparable kind come to: which enter the level, a value a day, and the filtered level.

None of it depends on the day it is asked for, so it is kept in memory with the sets it came from. Where all are the
same it holds; where a set was added or changed, the days before it hold and the filter goes on from there.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import groupby, pairwise
from math import log
from operator import attrgetter

import numpy as np
from numpy.typing import NDArray

from analysis.core.estimates.kept import LRUCache
from analysis.core.estimates.local_level import FilterBank, Series, filter_together
from analysis.core.estimates.one_rep_max import set_estimates, unused
from analysis.core.records.estimates import ComparableKind, RealSingle, SetEstimate
from analysis.core.records.lifts import SetRecord
from analysis.core.records.wording import percent
from analysis.core.settings import DEFAULTS, Settings

Array = NDArray[np.float64]
Rows = tuple[SetRecord, ...]
DRIFTS = np.exp(np.linspace(-log(4.0), log(4.0), 9))  # multiples of the usual drift that are tried
DRIFT_PRIOR_SD = 0.7  # log SD of a lifter's drift about the usual one; calibration
RECENT = timedelta(days=84)
MOST_KEPT = 120_000  # sets; about 40 MB in one process
_DAY = attrgetter("day")


@dataclass(frozen=True, slots=True)
class KindSummary:
    """Estimates used and left out, real singles; per day with a used set the filtered log level and its SD.

    `tried` is the filter under every drift, from which it goes on when later sets come.
    """

    used: tuple[SetEstimate, ...]
    left_out: tuple[SetEstimate, ...]
    singles: tuple[RealSingle, ...]
    days: tuple[date, ...]
    drift: float
    level: Array
    sd: Array
    tried: FilterBank | None


_nothing = KindSummary((), (), (), (), 0.0, np.empty(0), np.empty(0), None)


@dataclass(frozen=True, slots=True)
class CacheEntry:
    """What is kept of one kind, with the sets and the settings it was worked out from."""

    rows: Rows
    settings: Settings
    settled: KindSummary


KEPT: LRUCache[tuple[str, ComparableKind], CacheEntry] = LRUCache(MOST_KEPT)


def summarize_kinds(groups: Sequence[tuple[ComparableKind, Rows]], settings: Settings = DEFAULTS) -> list[KindSummary]:
    """What each kind's sets (by day) come to, in the order given; kinds that must be worked out anew go together."""
    held = [KEPT.get((rows[0].key, kind)) if rows else None for kind, rows in groups]
    found = [unchanged_prefix(one, rows, settings) for one, (_, rows) in zip(held, groups, strict=True)]
    missing = [i for i, one in enumerate(found) if one is None]
    fresh = _worked_out([_checkpoint(held[i], groups[i][1], settings) for i in missing], settings)
    for i, one in zip(missing, fresh, strict=True):
        kind, rows = groups[i]
        found[i] = one
        if rows:
            KEPT.keep((rows[0].key, kind), CacheEntry(rows, settings, one), len(rows))
    return [one for one in found if one is not None]


def unchanged_prefix(held: CacheEntry | None, rows: Rows, settings: Settings) -> KindSummary | None:
    """What is kept, when it was worked out from the very same sets and settings."""
    return held.settled if held is not None and held.rows == rows and held.settings == settings else None


@dataclass(frozen=True, slots=True)
class _Checkpoint:
    """What of the last time still holds, up to the day of the first set that differs, and the sets from there on."""

    old: KindSummary
    later: Rows


def _checkpoint(held: CacheEntry | None, rows: Rows, settings: Settings) -> _Checkpoint:
    if held is None or held.settings != settings:
        return _Checkpoint(_nothing, rows)
    place = next((i for i, (a, b) in enumerate(zip(held.rows, rows, strict=False)) if a is not b and a != b), None)
    place = min(len(held.rows), len(rows)) if place is None else place
    day = min(one[place].day for one in (held.rows, rows) if place < len(one))
    old, days = held.settled, bisect_left(held.settled.days, day)
    if not days or old.tried is None:
        return _Checkpoint(_nothing, rows)
    kept = replace(
        old,
        used=old.used[: bisect_left(old.used, day, key=_DAY)],
        left_out=old.left_out[: bisect_left(old.left_out, day, key=_DAY)],
        singles=old.singles[: bisect_left(old.singles, day, key=_DAY)],
        days=old.days[:days],
        tried=old.tried.until(days),
    )
    return _Checkpoint(kept, rows[bisect_left(rows, day, key=_DAY) :])


def _worked_out(begun: Sequence[_Checkpoint], settings: Settings) -> list[KindSummary]:
    """All of it again for what is later, all kinds filtered side by side."""
    usual = settings["best.drift_4_weeks"]
    sides = [usable(one.later, settings, one.old.used) for one in begun]
    series = [day_values(used) for used, _ in sides]
    filtering = [i for i, (days, _, _) in enumerate(series) if days]
    tried = filter_together([_series(begun[i].old, series[i], usual) for i in filtering])
    found = dict(zip(filtering, tried, strict=True))
    return [
        _joined(one.old, used, left_out, series[i][0], found.get(i, one.old.tried), usual)
        for i, (one, (used, left_out)) in enumerate(zip(begun, sides, strict=True))
    ]


def _series(old: KindSummary, later: tuple[list[date], list[float], list[float]], usual: float) -> Series:
    """The later days' values, with the steps of every drift from the day before each."""
    days, values, noise = later
    first = 0.0 if old.tried is None else (days[0] - old.days[-1]).days / 28.0
    waits = np.array([first, *((b - a).days / 28.0 for a, b in pairwise(days))])
    return Series(values, noise, ((usual * DRIFTS) ** 2)[:, None] * waits, old.tried)


def _joined(
    old: KindSummary,
    used: Sequence[SetEstimate],
    left_out: Sequence[SetEstimate],
    days: Sequence[date],
    tried: FilterBank | None,
    usual: float,
) -> KindSummary:
    """Old and later in one; the drift is chosen by likelihood with a prior."""
    left = (*old.left_out, *left_out)
    if tried is None:
        return replace(_nothing, left_out=left)
    best = int(np.argmax(tried.log_likelihood - 0.5 * (np.log(DRIFTS) / DRIFT_PRIOR_SD) ** 2))
    return KindSummary(
        used=(*old.used, *used),
        left_out=left,
        singles=(*old.singles, *(RealSingle(e.key, e.day, e.estimate_kg) for e in used if e.is_single)),
        days=(*old.days, *days),
        drift=float(usual * DRIFTS[best]),
        level=tried.mean[best],
        sd=np.sqrt(tried.var[best]),
        tried=tried,
    )


def day_values(used: Sequence[SetEstimate]) -> tuple[list[date], list[float], list[float]]:
    """Days, log value and its variance per day: the heaviest real single, else the weighted mean.

    Sets of one day share their errors (the day, the lifter's sense of effort), so many sets do not narrow it.
    """
    days, values, noise = [], [], []
    for day, group in groupby(used, key=_DAY):
        rows = list(group)
        singles = [e for e in rows if e.is_single]
        if singles:
            rows = [max(singles, key=lambda e: e.estimate_kg)]
        weights = [e.sd_log**-2 for e in rows]
        total = sum([w * log(e.estimate_kg) for w, e in zip(weights, rows, strict=True)])
        days.append(day)
        values.append(total / sum(weights))
        noise.append(min([e.sd_log for e in rows]) ** 2)
    return days, values, noise


def usable(
    rows: Sequence[SetRecord], settings: Settings = DEFAULTS, before: Sequence[SetEstimate] = ()
) -> tuple[list[SetEstimate], list[SetEstimate]]:
    """Estimates that enter the level, and those that do not with the reason; rows sorted by day.

    `before` are the estimates used on earlier days, which a day's guesses are held against.
    """
    unnoted = {row.key for row in rows if row.rir_low is None and row.rir_high is None}
    used = list(before)
    left_out: list[SetEstimate] = []
    for _, group in groupby(set_estimates(rows, settings), key=_DAY):
        day = list(group)
        left_out += [e for e in day if not e.used]
        kept, dropped = _without_guesses([e for e in day if e.used], unnoted, used, settings)
        used += kept
        left_out += dropped
    return used[len(before) :], left_out


def _recent_best(used: Sequence[SetEstimate]) -> tuple[date, float] | None:
    """Day of the last used set and the highest estimate of the twelve weeks before it."""
    if not used:
        return None
    last = used[-1].day
    return last, max(e.estimate_kg for e in _backwards(used, last - RECENT))


def _backwards(used: Sequence[SetEstimate], since: date) -> Iterator[SetEstimate]:
    for found in reversed(used):
        if found.day < since:
            return
        yield found


def _without_guesses(
    day: Sequence[SetEstimate],
    unnoted: set[str],
    before: Sequence[SetEstimate],
    settings: Settings,
) -> tuple[list[SetEstimate], list[SetEstimate]]:
    """Of sets with no effort noted keep only the day's top set, and only if it comes near the recent best."""
    sure = [e for e in day if e.is_single or e.key not in unnoted]
    if len(sure) == len(day):
        return sure, []
    guesses = [e for e in day if not (e.is_single or e.key not in unnoted)]
    top = max(guesses, key=lambda e: e.estimate_kg)
    reason = _guess_refused(top, sure, before, settings)
    rest = [unused(e, "effort not noted, and not the day's top set") for e in guesses if e is not top]
    return (sure, [*rest, unused(top, reason)]) if reason else ([*sure, top], rest)


def _guess_refused(
    top: SetEstimate, sure: Sequence[SetEstimate], before: Sequence[SetEstimate], settings: Settings
) -> str:
    """Why the day's top set without noted effort is not used, or ""."""
    if sure:
        return "effort not noted, and the day has a set with effort noted"
    share, recent = settings["best.unnoted_share"], _recent_best(before)
    if recent and top.day - recent[0] <= RECENT and top.estimate_kg < share * recent[1]:
        return f"effort not noted, and under {percent(share)} of the best of the last 12 weeks: looks like a light day"
    return ""
