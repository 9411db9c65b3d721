"""Attempts that read the day: belief about the day's best after warm-ups, makes and misses, and the loads it calls.

The day's best D (log kg) starts as a normal about the level with its own error, the lifter's usual meet-day bias and
the day's spread. A warm-up or attempt with reps left or speed is a normal observation of D, less exact the farther its
load lies under D; a make or miss cuts D at the load. All on a grid, so that several observations combine exactly.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, floor, hypot, log, log1p

import numpy as np
from numpy.typing import ArrayLike, NDArray

from analysis.core.estimates.one_rep_max import estimate
from analysis.core.meets.tree import Result
from analysis.core.records.estimates import DayBest
from analysis.core.settings import DEFAULTS, Settings

Array = NDArray[np.float64]
GRID = np.linspace(-5.0, 5.0, 161)  # SDs about the middle; a surprise of more than 5 SD moves the plan, see day_best
LEAST = 1e-300
TAIL = 8.0  # degrees of freedom of a reading's error: one that fits nothing counts little (calibration)


@dataclass(frozen=True, slots=True)
class DayBelief:
    """Belief about log D of one or many lifters: values (..., k) and weights (..., k) that sum to 1."""

    values: Array
    weights: Array

    @property
    def mean(self) -> Array:
        """Mean of log D, shape (...)."""
        return np.asarray(np.sum(self.weights * self.values, axis=-1))

    @property
    def sd(self) -> Array:
        """SD of log D, shape (...)."""
        spread = self.values - self.mean[..., None]
        return np.asarray(np.sqrt(np.sum(self.weights * spread**2, axis=-1)))

    def chance(self, log_load: ArrayLike, settings: Settings = DEFAULTS) -> Array:
        """Chance of making a load next: within reach and no slip, shape (...)."""
        reach = _above(self.values, np.asarray(log_load, float)[..., None])
        return np.asarray((1.0 - settings["meet.slip"]) * np.sum(self.weights * reach, axis=-1))


def _above(values: Array, limit: Array) -> Array:
    """Share of each grid cell above a limit (a smooth step one cell wide, so that the grid does not show)."""
    cell = values[..., 1:2] - values[..., :1]
    return np.asarray(np.clip((values - limit) / cell + 0.5, 0.0, 1.0))


def belief_of(mean: ArrayLike, sd: ArrayLike) -> DayBelief:
    """The belief before the day, from the level's log mean and the SD of level, bias and day together."""
    middle, spread = np.asarray(mean, float)[..., None], np.asarray(sd, float)[..., None]
    weights = np.exp(-0.5 * GRID**2)
    values = middle + spread * GRID
    return DayBelief(values, np.broadcast_to(weights / weights.sum(), values.shape))


def belief_before(
    day: DayBest, settings: Settings = DEFAULTS, *, bias: float = 0.0, style_sd: float = 0.0
) -> DayBelief:
    """The belief from the day's best of the log; `bias` is the lifter's own meet-day change from earlier meets (log).

    The spread gains the usual bias of a lifter, and `style_sd` where the style's own days vary more.
    """
    return belief_of(log(day.median_kg) + bias, hypot(day.sd_log, settings["meet.bias_sd"], style_sd))


def seen_sd(belief_mean: ArrayLike, log_load: ArrayLike, near_sd: float, settings: Settings = DEFAULTS) -> Array:
    """SD of the best read off one lift: near_sd x (1 + widening x ln(best / load))."""
    distance = np.maximum(np.asarray(belief_mean, float) - np.asarray(log_load, float), 0.0)
    return np.asarray(near_sd * (1.0 + settings["meet.read_widening"] * distance))


def read_lift(belief: DayBelief, log_best_seen: ArrayLike, sd: ArrayLike) -> DayBelief:
    """The belief after a lift whose effort or speed says this log best, with SD `sd`."""
    seen, error = np.asarray(log_best_seen, float)[..., None], np.asarray(sd, float)[..., None]
    z = (belief.values - seen) / error
    return _weighted(belief, (1.0 + z**2 / TAIL) ** (-0.5 * (TAIL + 1.0)))


def take_result(belief: DayBelief, log_load: ArrayLike, made: ArrayLike, settings: Settings = DEFAULTS) -> DayBelief:
    """The belief after an attempt: a make cuts below the load, a miss above it but for slips; each costs a little."""
    reach = _above(belief.values, np.asarray(log_load, float)[..., None])
    makes = (1.0 - settings["meet.slip"]) * reach
    found = _weighted(belief, np.where(np.asarray(made, bool)[..., None], makes, 1.0 - makes))
    return DayBelief(found.values + log1p(-settings["meet.attempt_cost"]), found.weights)


def _weighted(belief: DayBelief, likelihood: Array) -> DayBelief:
    weights = np.maximum(belief.weights * likelihood, LEAST)
    return DayBelief(belief.values, weights / weights.sum(axis=-1, keepdims=True))


def call_at(belief: DayBelief, attempt: int, with_news: bool, settings: Settings = DEFAULTS) -> Array:
    """Log load to call for attempt 0 or 1: mean + z SD; z is lower once the day has been read (calibration)."""
    name = ("opener", "second")[attempt]
    z = settings[f"meet.z_{name}_read" if with_news else f"meet.z_{name}"]
    return np.asarray(belief.mean + z * belief.sd)


def opener_most(before: DayBelief, settings: Settings = DEFAULTS) -> Array:
    """The heaviest opener (kg) whatever warm-ups say: a share of the day seen from the log; good warm-ups err too."""
    return np.asarray(settings["meet.opener_most"] * np.exp(before.mean))


HARD_REPS_LEFT = 2.0  # reps left up to which a lift is read with the smaller error
LAST_STEPS = 24  # loads tried for the last attempt, in steps above the least allowed


def last_call(belief: DayBelief, least_kg: ArrayLike, best_kg: ArrayLike, settings: Settings = DEFAULTS) -> Array:
    """Load (kg) of the last attempt with the most expected kilos: chance times what it adds to the best so far.

    Loads from `least_kg` up in steps, from just under the middle of the belief where that is higher.
    """
    step = settings["meet.step"]
    best = np.asarray(best_kg, float)
    under = np.floor(np.exp(belief.mean - 2.0 * belief.sd) / step) * step
    first = np.maximum(np.asarray(least_kg, float), under)
    loads = np.stack([first + step * k for k in range(LAST_STEPS)])
    worth = np.stack([belief.chance(np.log(load), settings) * (load - best) for load in loads])
    return np.asarray(np.take_along_axis(loads, worth.argmax(axis=0)[None], axis=0)[0])


@dataclass(frozen=True, slots=True)
class Lift:
    """A warm-up or made attempt of the day with what was seen: reps, reps left, or the best its speed predicts."""

    load_kg: float
    reps: int = 1
    reps_left: float | None = None
    speed_best_kg: float | None = None


@dataclass(frozen=True, slots=True)
class LiveCall:
    """The next attempt: load (kg), chance (None while only the log speaks of the opener), what it rests on.

    basis: "log", "warm-ups" or "results". third_reason: why a planned third is under the usual 100 %, or "".
    """

    attempt: int
    load_kg: float
    chance: float | None
    basis: str
    third_reason: str = ""


def read_day(belief: DayBelief, lifts: Sequence[Lift], settings: Settings = DEFAULTS) -> DayBelief:
    """The belief after the day's warm-ups and made attempts, each with reps left or speed; others say nothing."""
    for lift in lifts:
        at = log(lift.load_kg)
        if lift.speed_best_kg is not None:
            sd = seen_sd(belief.mean, at, settings["meet.read_speed_sd"], settings)
            belief = read_lift(belief, log(lift.speed_best_kg), sd)
        elif lift.reps_left is not None:
            best = log(float(estimate(lift.load_kg, lift.reps + lift.reps_left)))
            sd = np.asarray(settings["meet.read_easy_sd"])
            if lift.reps_left <= HARD_REPS_LEFT:
                sd = np.minimum(sd, seen_sd(belief.mean, at, settings["meet.read_rpe_sd"], settings))
            belief = read_lift(belief, best, sd)
    return belief


def next_call(
    before: DayBelief, warm_ups: Sequence[Lift], taken: Sequence[Result], settings: Settings = DEFAULTS
) -> LiveCall | None:
    """The next attempt from everything the day has shown so far; None after three.

    A load is never under the last one (one step more after a make). The opener's chance is given only once a warm-up
    was read; after a miss the chance carries the miss.
    """
    attempt = len(taken)
    if attempt >= 3:
        return None
    belief = read_day(before, warm_ups, settings)
    read = any(w.reps_left is not None or w.speed_best_kg is not None for w in warm_ups)
    for result in taken:
        belief = take_result(belief, log(result.load_kg), result.made, settings)
    step = settings["meet.step"]
    least = taken[-1].load_kg + (step if taken[-1].made else 0.0) if taken else 0.0
    if attempt == 2:
        so_far = max((r.load_kg for r in taken if r.made), default=0.0)
        load = float(last_call(belief, least, so_far, settings))
    else:
        aim = exp(float(call_at(belief, attempt, read, settings)))
        if attempt == 0:
            aim = min(aim, float(opener_most(before, settings)))
        load = max(floor(aim / step + 0.5) * step, least)
    chance = float(belief.chance(log(load), settings)) if read or taken else None
    usual = exp(float(before.mean))
    reason = "day-reads-lower" if attempt == 2 and load < usual - 0.5 * step else ""
    return LiveCall(attempt + 1, load, chance, "results" if taken else "warm-ups" if read else "log", reason)


def call_for_number(
    before: DayBelief,
    warm_ups: Sequence[Lift],
    taken: Sequence[Result],
    needed_kg: float,
    settings: Settings = DEFAULTS,
) -> tuple[tuple[float, ...], float]:
    """Loads left that give the best chance of one needed load (place or total), and that chance.

    A first make is taken at the usual opener; every attempt after it goes to the needed load.
    """
    belief = read_day(before, warm_ups, settings)
    for result in taken:
        belief = take_result(belief, log(result.load_kg), result.made, settings)
    loads: list[float] = []
    missed_all, left = 1.0, 3 - len(taken)
    if not taken and left == 3:
        opener = next_call(before, warm_ups, (), settings)
        assert opener is not None
        if opener.load_kg < needed_kg:
            loads.append(opener.load_kg)
            belief = DayBelief(belief.values + log1p(-settings["meet.attempt_cost"]), belief.weights)
            left -= 1
    least = taken[-1].load_kg if taken else 0.0
    for _ in range(left):
        load = max(needed_kg, least)
        chance = float(belief.chance(log(load), settings))
        loads.append(load)
        missed_all *= 1.0 - chance
        belief = take_result(belief, log(load), False, settings)
    return tuple(loads), 1.0 - missed_all
