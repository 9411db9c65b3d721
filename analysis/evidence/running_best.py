"""The running best of one comparable kind: a filtered level with a band, not the maximum of noisy estimates."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, timedelta
from itertools import groupby, pairwise
from math import exp, log

import numpy as np
from numpy.typing import NDArray

from analysis.errors import NotEnoughEvidence
from analysis.evidence.comparable import group_sets, kind_of, label
from analysis.evidence.local_level import filter_one
from analysis.evidence.one_rep_max import Z80, effort_noted, set_estimates, unused
from analysis.evidence.settings import DEFAULTS, Settings
from analysis.records.estimates import ComparableKind, RealSingle, RunningBest, SetEstimate
from analysis.records.lifts import SetRecord

Array = NDArray[np.float64]
DRIFTS = np.exp(np.linspace(-log(4.0), log(4.0), 9))  # multiples of the usual drift that are tried
DRIFT_PRIOR_SD = 0.7  # log SD of a lifter's drift about the usual one; calibration
RECENT = timedelta(days=84)


def running_bests(
    sets: Iterable[SetRecord],
    as_of: date,
    settings: Settings = DEFAULTS,
    pooled: Sequence[str] = (),
    lifts: Sequence[str] = ("deadlift",),
) -> dict[ComparableKind, RunningBest]:
    """The running best of every comparable kind that has a usable set by `as_of`, most days first."""
    found: dict[ComparableKind, RunningBest] = {}
    for kind, group in group_sets((s for s in sets if s.tags.lift in lifts), pooled).items():
        try:
            found[kind] = running_best(group, as_of, settings, kind)
        except NotEnoughEvidence:
            continue
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
    rows = sorted((s for s in sets if s.day <= as_of), key=lambda s: s.day)
    used, left_out = usable(rows, settings)
    if not used:
        raise NotEnoughEvidence("running best", "no made set of 1 to 8 reps at RPE 7 or more is logged yet")
    days, values, noise = day_values(used)
    drift, level, sd = _filtered(days, values, noise, settings["best.drift_4_weeks"])
    waited = drift * ((as_of - days[-1]).days / 28.0) ** 0.5
    level, sd = np.append(level, level[-1]), np.append(sd, np.hypot(sd[-1], waited))
    kind = kind or kind_of(rows[0].tags)
    first = 1 if days[-1] == as_of else 0  # the as-of date is shown once
    keep = slice(0, len(days) + 1 - first)
    shown = (*days, as_of)[keep]
    middle, low, high = (_tuple(np.exp(level + z * sd)[keep]) for z in (0.0, -Z80, Z80))
    singles = tuple(RealSingle(e.key, e.day, e.estimate_kg) for e in used if e.is_single)
    return RunningBest(
        kind=kind,
        label=label(kind),
        as_of=as_of,
        days=shown,
        level_kg=middle,
        low_kg=low,
        high_kg=high,
        sd_log=_tuple(sd[keep]),
        points=tuple(used),
        unused=tuple(left_out),
        singles=singles,
        drift_4_weeks=drift,
    )


def _tuple(values: Array) -> tuple[float, ...]:
    """Plain floats of an array."""
    return tuple(float(v) for v in values)


def _filtered(
    days: Sequence[date], values: Sequence[float], noise: Sequence[float], usual: float
) -> tuple[float, Array, Array]:
    """Drift chosen by likelihood with a prior, then the filtered level and its SD per day, log units."""
    waits = [0.0, *((b - a).days / 28.0 for a, b in pairwise(days))]
    tried = []
    for drift in usual * DRIFTS:
        mean, var, likelihood = filter_one(values, noise, [drift**2 * wait for wait in waits])
        tried.append((likelihood - 0.5 * (log(drift / usual) / DRIFT_PRIOR_SD) ** 2, float(drift), mean, var))
    _, best, mean, var = max(tried, key=lambda t: t[0])
    return best, np.array(mean), np.sqrt(var)


def day_values(used: Sequence[SetEstimate]) -> tuple[list[date], list[float], list[float]]:
    """Days, log value and its variance per day: the heaviest real single, else the weighted mean.

    Sets of one day share their errors (the day, the lifter's sense of effort), so many sets do not narrow it.
    """
    days, values, noise = [], [], []
    for day, group in groupby(used, key=lambda e: e.day):
        rows = list(group)
        singles = [e for e in rows if e.is_single]
        if singles:
            rows = [max(singles, key=lambda e: e.estimate_kg)]
        weights = [e.sd_log**-2 for e in rows]
        total = sum(w * log(e.estimate_kg) for w, e in zip(weights, rows, strict=True))
        days.append(day)
        values.append(total / sum(weights))
        noise.append(min(e.sd_log for e in rows) ** 2)
    return days, values, noise


def usable(rows: Sequence[SetRecord], settings: Settings = DEFAULTS) -> tuple[list[SetEstimate], list[SetEstimate]]:
    """Estimates that enter the level, and those that do not with the reason; rows sorted by day."""
    noted = {row.key: effort_noted(row) for row in rows}
    used: list[SetEstimate] = []
    left_out: list[SetEstimate] = []
    for _, group in groupby(set_estimates(rows, settings), key=lambda e: e.day):
        day = list(group)
        left_out += [e for e in day if not e.used]
        kept, dropped = _without_guesses([e for e in day if e.used], noted, used, settings)
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
    noted: dict[str, bool],
    before: Sequence[SetEstimate],
    settings: Settings,
) -> tuple[list[SetEstimate], list[SetEstimate]]:
    """Of sets with no effort noted keep only the day's top set, and only if it comes near the recent best."""
    sure = [e for e in day if e.is_single or noted[e.key]]
    guesses = [e for e in day if not (e.is_single or noted[e.key])]
    if not guesses:
        return sure, []
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


def basis(best: RunningBest) -> str:
    """What a figure of this best holds and rests on, for its caption."""
    words = f"{best.label}: {len(best.points)} sets on {best.day_count} days"
    return f"{words}, {len(best.unused)} not used" if best.unused else words


def level_on(best: RunningBest, day: date) -> float | None:
    """Filtered level on the last known day up to `day`, kg, or None before the first."""
    place = bisect_right(best.days, day)
    return best.level_kg[place - 1] if place else None


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
