"""What the sets of one comparable kind come to: which enter the level, a value a day, and the filtered level.

None of it depends on the day it is asked for, so it is kept in memory for sets that have not changed; a set more or
another value makes it anew.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby, pairwise
from math import log
from operator import attrgetter

import numpy as np
from numpy.typing import NDArray

from analysis.evidence.kept import Kept
from analysis.evidence.local_level import filter_together
from analysis.evidence.one_rep_max import set_estimates, unused
from analysis.evidence.settings import DEFAULTS, Settings
from analysis.records.estimates import ComparableKind, RealSingle, SetEstimate
from analysis.records.lifts import SetRecord

Array = NDArray[np.float64]
Rows = tuple[SetRecord, ...]
DRIFTS = np.exp(np.linspace(-log(4.0), log(4.0), 9))  # multiples of the usual drift that are tried
DRIFT_PRIOR_SD = 0.7  # log SD of a lifter's drift about the usual one; calibration
RECENT = timedelta(days=84)
MOST_KEPT = 120_000  # sets; about 40 MB in one process
_DAY = attrgetter("day")


@dataclass(frozen=True, slots=True)
class Settled:
    """Estimates used and left out, real singles; per day with a used set the filtered log level and its SD."""

    used: tuple[SetEstimate, ...]
    left_out: tuple[SetEstimate, ...]
    singles: tuple[RealSingle, ...]
    days: tuple[date, ...]
    drift: float
    level: Array
    sd: Array


Held = tuple[Rows, Settings, Settled]
KEPT: Kept[tuple[str, ComparableKind], Held] = Kept(MOST_KEPT)


def settled(groups: Sequence[tuple[ComparableKind, Rows]], settings: Settings = DEFAULTS) -> list[Settled]:
    """What each kind's sets (by day) come to, in the order given; kinds that must be worked out anew go together."""
    found = [_kept(kind, rows, settings) for kind, rows in groups]
    missing = [i for i, one in enumerate(found) if one is None]
    fresh = _worked_out([groups[i][1] for i in missing], settings)
    for i, one in zip(missing, fresh, strict=True):
        kind, rows = groups[i]
        found[i] = one
        if rows:
            KEPT.keep((rows[0].key, kind), (rows, settings, one), len(rows))
    return [one for one in found if one is not None]


def _kept(kind: ComparableKind, rows: Rows, settings: Settings) -> Settled | None:
    """What is kept, when it was worked out from the very same sets and settings."""
    held = KEPT.get((rows[0].key, kind)) if rows else None
    return held[2] if held is not None and held[0] == rows and held[1] == settings else None


def _worked_out(groups: Sequence[Rows], settings: Settings) -> list[Settled]:
    """The same, anew; all kinds are filtered side by side."""
    sides = [usable(rows, settings) for rows in groups]
    series = [day_values(used) for used, _ in sides]
    levels = iter(_filtered([one for one in series if one[0]], settings["best.drift_4_weeks"]))
    found = []
    for (used, left_out), (days, _, _) in zip(sides, series, strict=True):
        drift, level, sd = next(levels) if days else (0.0, np.empty(0), np.empty(0))
        singles = tuple(RealSingle(e.key, e.day, e.estimate_kg) for e in used if e.is_single)
        found.append(Settled(tuple(used), tuple(left_out), singles, tuple(days), drift, level, sd))
    return found


def _filtered(
    series: Sequence[tuple[list[date], list[float], list[float]]], usual: float
) -> list[tuple[float, Array, Array]]:
    """Per kind the drift chosen by likelihood with a prior, then the filtered level and its SD per day, log units."""
    if not series:
        return []
    drifts = usual * DRIFTS
    waits = [np.array([0.0, *((b - a).days / 28.0 for a, b in pairwise(days))]) for days, _, _ in series]
    steps = [np.array([drift**2 for drift in drifts])[:, None] * wait for wait in waits]
    prior = np.array([-0.5 * (log(drift / usual) / DRIFT_PRIOR_SD) ** 2 for drift in drifts])
    found = []
    for one in filter_together([values for _, values, _ in series], [noise for _, _, noise in series], steps):
        best = int(np.argmax(one.log_likelihood + prior))
        found.append((float(drifts[best]), one.mean[best].copy(), np.sqrt(one.var[best])))
    return found


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


def usable(rows: Sequence[SetRecord], settings: Settings = DEFAULTS) -> tuple[list[SetEstimate], list[SetEstimate]]:
    """Estimates that enter the level, and those that do not with the reason; rows sorted by day."""
    unnoted = {row.key for row in rows if row.rir_low is None and row.rir_high is None}
    used: list[SetEstimate] = []
    left_out: list[SetEstimate] = []
    for _, group in groupby(set_estimates(rows, settings), key=_DAY):
        day = list(group)
        left_out += [e for e in day if not e.used]
        kept, dropped = _without_guesses([e for e in day if e.used], unnoted, used, settings)
        used += kept
        left_out += dropped
    return used, left_out


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
        return f"effort not noted, and under {share:.0%} of the best of the last 12 weeks: looks like a light day"
    return ""
