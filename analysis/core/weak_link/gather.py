"""From the log's kinds to the estimate's evidence: levels, where lifts stopped, what gave way, grips."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import log

import numpy as np
import numpy.typing as npt

from analysis.core.estimates.comparable import kind_key, kind_of
from analysis.core.estimates.effort import rpe_of
from analysis.core.estimates.misses import HARD_RPE, POOLED, MissReading, position_of
from analysis.core.estimates.normal import normal_cdf
from analysis.core.records.demands import DemandTable
from analysis.core.records.estimates import ComparableKind, RunningBest
from analysis.core.records.lifts import SetRecord
from analysis.core.records.terms import MISS_POSITIONS
from analysis.core.settings import Settings
from analysis.core.weak_link.kinds import PreparedLog, rounded_shape
from analysis.core.weak_link.prior import FATIGUE
from analysis.core.weak_link.problem import MADE_HEAVY, MISSED, NOT_NOTED, NOT_PLACED, SIGNS, Evidence, Stuck

LEAST_LEVEL_SD = 0.01
HEAVY_MADE = 0.85
FloatArray = npt.NDArray[np.float64]
LIFT_SD = 0.015  # log; lift to lift within one day (calibration)
_GRID = np.linspace(-4.0, 4.0, 81)
_NODES, _NODE_WEIGHTS = np.polynomial.hermite_e.hermegauss(11)
SPENT = 1.05  # a miss this little above a made single already made that single a true one


@dataclass(frozen=True, slots=True)
class DayResult:
    """One attempt: its day, log of load over the level on that day, and whether it was made."""

    day: date
    log_share: float
    made: bool


@dataclass(frozen=True, slots=True)
class Gathered:
    """Evidence for the sampler, and which sets each piece of it stands for."""

    evidence: Evidence
    heavy_made: tuple[SetRecord, ...]
    level_keys: Mapping[int, tuple[str, ...]]
    grip_keys: Mapping[int, tuple[str, ...]]


def gathered(
    log_of: PreparedLog,
    readings: Sequence[MissReading],
    kinds: Sequence[ComparableKind],
    table: DemandTable,
    main: str,
    as_of: date,
    settings: Settings,
) -> Gathered:
    """All evidence in the order of the table's kinds; `main` is the key of the main style's floor pull."""
    place = {kind.key: i for i, kind in enumerate(table.kinds)}
    spots = _Spots(place, table, place[main])
    count = len(table.kinds)
    level, sd = np.full(count, np.nan), np.full(count, np.nan)
    level_keys: dict[int, tuple[str, ...]] = {}
    heavy_sets = near_the_level(log_of, as_of, settings)
    for kind in kinds:
        if kind_key(kind) not in place:
            continue
        at, best = place[kind_key(kind)], log_of.bests[kind]
        width = max(best.sd_log[-1], LEAST_LEVEL_SD)
        results = day_results(kind, best, heavy_sets.get(kind, ()), log_of.levels, readings)
        shift, width = sharpened(width, results, settings["weak.day_sd"])
        level[at], sd[at] = log(best.now_kg) + shift, width
        level_keys[at] = tuple(p.key for p in best.points)
    heavy = heavy_made(log_of, as_of, settings)
    stuck = [s for r in readings if r.counts for s in _missed(r, spots)]
    stuck += [s for one in heavy for s in _slow_points(one, spots)]
    opened, held, grip_keys = _grips(readings, spots, count)
    return Gathered(Evidence(level, sd, tuple(stuck), opened, held), heavy, level_keys, grip_keys)


@dataclass(frozen=True, slots=True)
class _Spots:
    """Where a set stands in the table; floor pulls of a kind that was not tabulated stand with the main one,
    and a main pull seen rounded stands with its rounded form."""

    place: Mapping[str, int]
    table: DemandTable
    main: int

    def of(self, one: SetRecord) -> int | None:
        at = self.place.get(kind_key(kind_of(one.tags, POOLED)))
        main = self.table.kinds[self.main]
        if at is None and one.tags.style == main.style and one.tags.start == "floor":
            at = self.main
        if at == self.main and rounded_shape(one):
            return self.place.get(f"{rounded_shape(one)}:{main.key}", at)
        return at


def near_the_level(log_of: PreparedLog, as_of: date, settings: Settings) -> dict[ComparableKind, list[SetRecord]]:
    """By kind the made sets of the weeks that count, heavy against the level of their day."""
    since = as_of - timedelta(weeks=settings["miss.weeks"])
    found: dict[ComparableKind, list[SetRecord]] = {}
    for one in log_of.sets:
        if one.day <= since or one.result != "made":
            continue
        level = log_of.levels.get(one.key)
        if level and one.load_kg >= settings["miss.heavy_share"] * level:
            found.setdefault(kind_of(one.tags, POOLED), []).append(one)
    return found


def day_results(
    kind: ComparableKind,
    best: RunningBest,
    made: Iterable[SetRecord],
    levels: Mapping[str, float | None],
    readings: Sequence[MissReading],
) -> list[DayResult]:
    """Makes and misses of one kind that the level has not used yet, as shares of the level on their day.

    A single that entered the level is not a make again, and a miss that showed a single to be a true one is not
    counted a second time. A miss while tired is held against what a tired lifter has.
    """
    used = {p.key for p in best.points}
    singles = [(s.day, s.load_kg) for s in best.singles]
    found = []
    for r in readings:
        spent = any(r.set.day == day and kg < r.set.load_kg <= SPENT * kg for day, kg in singles)
        if r.counts and r.share and not spent and kind_of(r.set.tags, POOLED) == kind:
            found.append(DayResult(r.set.day, log(r.share) + FATIGUE * r.fatigue, made=False))
    for one in made:
        level = levels.get(one.key)
        if level and one.key not in used:
            found.append(DayResult(one.day, log(one.load_kg / level), made=True))
    return found


def heavy_made(log_of: PreparedLog, as_of: date, settings: Settings) -> tuple[SetRecord, ...]:
    """Made heavy pulls with the slowest height noted: weaker evidence of the same form as misses."""
    since = as_of - timedelta(weeks=settings["miss.weeks"])
    found = []
    for one in log_of.sets:
        if one.tags.lift != "deadlift" or one.result != "made" or not one.slowest_at or one.day <= since:
            continue
        level, rpe = log_of.levels.get(one.key), rpe_of(one)
        if (level and one.load_kg >= HEAVY_MADE * level) or (rpe is not None and rpe >= HARD_RPE):
            found.append(one)
    return tuple(found)


def _missed(reading: MissReading, spots: _Spots) -> list[Stuck]:
    """Where a lift stopped and what was seen; two slow points share one lift, a sign without a place stands alone."""
    one, kind = reading.set, spots.of(reading.set)
    sign = SIGNS.index(one.gave_way) if one.gave_way in SIGNS else NOT_NOTED
    noted = one.miss_positions or (position_of(one),)
    places = [MISS_POSITIONS.index(p) for p in noted if p in MISS_POSITIONS]
    if not places and sign != NOT_NOTED:
        places = [NOT_PLACED]
    if kind is None:
        return []
    share = reading.weight / max(len(places), 1)
    return [Stuck(one.key, kind, p, sign, MISSED, share, reading.fatigue, reading.excess) for p in places]


def _slow_points(one: SetRecord, spots: _Spots) -> list[Stuck]:
    """Where a made heavy lift was slowest and what changed there."""
    kind = spots.of(one)
    sign = SIGNS.index(one.what_changed) if one.what_changed in SIGNS else NOT_NOTED
    if kind is None or one.slowest_at not in MISS_POSITIONS:
        return []
    return [Stuck(one.key, kind, MISS_POSITIONS.index(one.slowest_at), sign, MADE_HEAVY)]


def _grips(
    readings: Sequence[MissReading], spots: _Spots, count: int
) -> tuple[np.ndarray, np.ndarray, dict[int, tuple[str, ...]]]:
    """Misses per kind where the grip opened, and where something else was seen to give way; with straps neither."""
    opened, held = np.zeros(count), np.zeros(count)
    keys: dict[int, tuple[str, ...]] = {}
    for r in readings:
        kind = spots.of(r.set)
        if kind is None or r.set.tags.straps:
            continue
        if r.code == "grip":
            opened[kind] += 1.0
            keys[kind] = (*keys.get(kind, ()), r.set.key)
        elif r.counts and r.set.gave_way:
            held[kind] += 1.0
    return opened, held, keys


def sharpened(sd: float, results: Sequence[DayResult], day_sd: float) -> tuple[float, float]:
    """Shift and SD (log) of a level of SD `sd` once its makes and misses are read; (0, sd) without any.

    Each day's attempts share a normal day effect, integrated by Gauss-Hermite nodes; the product is matched by a
    normal of the same mean and variance.
    """
    if not results:
        return 0.0, sd
    offset = sd * _GRID
    log_like = -0.5 * _GRID**2
    for day in dict.fromkeys(r.day for r in results):
        log_like = log_like + np.log(_day_likelihood(offset, [r for r in results if r.day == day], day_sd))
    weight = np.exp(log_like - log_like.max())
    weight = weight / weight.sum()
    mean = float(weight @ offset)
    return mean, float(np.sqrt(max(weight @ (offset - mean) ** 2, 1e-8)))


def _day_likelihood(offset: FloatArray, results: Sequence[DayResult], day_sd: float) -> FloatArray:
    """Chance of one day's results at each offset of the level, day effect integrated out."""
    day = offset[:, None] + day_sd * _NODES
    chance = np.ones_like(day)
    for one in results:
        made = normal_cdf((day - one.log_share) / LIFT_SD)
        chance = chance * (made if one.made else 1.0 - made)
    return np.asarray(chance @ (_NODE_WEIGHTS / _NODE_WEIGHTS.sum()) + 1e-12)
