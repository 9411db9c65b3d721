"""The local level model: a level that wanders, seen through noise, filtered by the Kalman recursions.

y_t = level_t + noise, level_t = level_(t-1) + step; Durbin and Koopman, Time Series Analysis by State Space
Methods, 2nd edition 2012, chapter 2. The start is exact diffuse: the first value seen sets the level.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]
_LOG_2PI = float(np.log(2.0 * np.pi))
_GOLDEN = (5.0**0.5 - 1.0) / 2.0


@dataclass(frozen=True, slots=True)
class FilteredLevel:
    """Level given the values so far: mean and variance, shape (..., n); log-likelihood, shape (...)."""

    mean: Array
    var: Array
    log_likelihood: Array


def filter_level(values: ArrayLike, noise_var: ArrayLike, step_var: ArrayLike) -> FilteredLevel:
    """Filter a series, or many at once over leading axes; NaN is a time without a value.

    values and noise_var broadcast to (..., n); step_var is the variance gained on the way to each time, so
    unequal gaps are steps of unequal variance, and its first entry is not used. The log-likelihood leaves out
    the first value (diffuse start) and its constant. Before any value mean is NaN and variance infinite.
    """
    y, noise, step = np.broadcast_arrays(
        np.asarray(values, float), np.asarray(noise_var, float), np.asarray(step_var, float)
    )
    mean, var = np.full(y.shape, np.nan), np.full(y.shape, np.inf)
    log_likelihood = np.zeros(y.shape[:-1])
    level, spread = np.full(y.shape[:-1], np.nan), np.full(y.shape[:-1], np.inf)
    for t in range(y.shape[-1]):
        spread = spread + step[..., t]
        level, spread, gained = _update(level, spread, y[..., t], noise[..., t])
        log_likelihood += gained
        mean[..., t], var[..., t] = level, spread
    return FilteredLevel(mean, var, log_likelihood)


def _update(level: Array, spread: Array, y: Array, noise: Array) -> tuple[Array, Array, Array]:
    """One value taken in: new level, its variance, and what the log-likelihood gains."""
    seen, known = ~np.isnan(y), np.isfinite(spread)
    both = seen & known
    total = np.where(both, spread + noise, 1.0)
    error = np.where(both, y - level, 0.0)
    gain = np.where(both, spread / total, 0.0)
    started = seen & ~known
    new_level = np.where(started, y, np.where(known, level + gain * error, np.nan))
    new_spread = np.where(started, noise, np.where(both, spread * (1.0 - gain), spread))
    gained = np.where(both, -0.5 * (_LOG_2PI + np.log(total) + error**2 / total), 0.0)
    return new_level, new_spread, gained


@dataclass(frozen=True, slots=True)
class FilterBank:
    """One series filtered under several step variances: mean, variance, gain of log-likelihood, each (ways, n)."""

    mean: Array
    var: Array
    gained: Array

    @property
    def log_likelihood(self) -> Array:
        """Of each way, shape (ways,)."""
        return np.asarray(self.gained.sum(axis=-1))

    def until(self, count: int) -> FilterBank:
        """The first times alone; what follows does not change them."""
        return FilterBank(self.mean[:, :count], self.var[:, :count], self.gained[:, :count])


@dataclass(frozen=True, slots=True)
class Series:
    """Values with their noise variance, step variances (ways, n); `before` was filtered already and is gone on from."""

    values: Sequence[float]
    noise_var: Sequence[float]
    step_var: Array
    before: FilterBank | None = None


def filter_together(series: Sequence[Series]) -> list[FilterBank]:
    """Many series of unequal length at once, each under several step variances; number for number as one
    by one in plain floats.

    The series stand side by side, longest first, so that each time is one step for all that still run. A series that
    goes on from an earlier one begins with its last level and variance in place of a first value and its noise.
    """
    if not series:
        return []
    begun = [checkpoint(one) for one in series]
    ways, places = begun[0].step.shape[1], sorted(range(len(begun)), key=lambda k: -len(begun[k].step))
    lengths = [len(begun[k].step) for k in places]
    y, noise, step = (np.zeros((lengths[0], len(begun) * ways)) for _ in range(3))
    columns = {k: slice(column * ways, (column + 1) * ways) for column, k in enumerate(places)}
    for k, here in columns.items():
        y[: len(begun[k].y), here] = begun[k].y
        noise[: len(begun[k].y), here] = begun[k].noise
        step[: len(begun[k].y), here] = begun[k].step
    running = [ways * sum(length > t for length in lengths) for t in range(lengths[0])]
    every = _filter_columns(y, noise, step, running)
    return [
        _whole(one, FilterBank(*(np.ascontiguousarray(a[: len(b.step), columns[k]].T) for a in every)))
        for k, (one, b) in enumerate(zip(series, begun, strict=True))
    ]


@dataclass(frozen=True, slots=True)
class Checkpoint:
    """One series as columns, times x ways, its first row the value or state to begin with."""

    y: Array
    noise: Array
    step: Array


def checkpoint(one: Series) -> Checkpoint:
    ways, before = one.step_var.shape[0], one.before
    y, noise = (np.repeat(np.asarray(a, float)[:, None], ways, axis=1) for a in (one.values, one.noise_var))
    if before is None:
        return Checkpoint(y, noise, one.step_var.T)
    first = np.zeros((1, ways))
    return Checkpoint(
        np.concatenate([before.mean[None, :, -1], y]),
        np.concatenate([before.var[None, :, -1], noise]),
        np.concatenate([first, one.step_var.T]),
    )


def _whole(one: Series, found: FilterBank) -> FilterBank:
    """What was filtered before and what came now, in one."""
    if one.before is None:
        return found
    parts = ((one.before.mean, found.mean), (one.before.var, found.var), (one.before.gained, found.gained))
    return FilterBank(*(np.concatenate([old, new[:, 1:]], axis=1) for old, new in parts))


def _filter_columns(y: Array, noise: Array, step: Array, running: Sequence[int]) -> tuple[Array, Array, Array]:
    """Mean, variance and gain of the log-likelihood by time and column; at time t the first `running[t]` go on."""
    mean, var = y.copy(), noise.copy()
    total, error = np.ones(y.shape), np.zeros(y.shape)
    for t in range(1, len(running)):
        on = slice(0, running[t])
        spread = np.add(var[t - 1, on], step[t, on])
        np.add(spread, noise[t, on], out=total[t, on])
        np.subtract(y[t, on], mean[t - 1, on], out=error[t, on])
        np.add(mean[t - 1, on], spread / total[t, on] * error[t, on], out=mean[t, on])
        np.multiply(spread, noise[t, on] / total[t, on], out=var[t, on])
    gained = -0.5 * (_LOG_2PI + np.log(total) + error * error / total)
    gained[0] = 0.0
    return mean, var, gained


def smooth_level(filtered: FilteredLevel, step_var: ArrayLike) -> tuple[Array, Array]:
    """Level given all values: mean and variance, shape (..., n), by the backward recursion.

    Rauch, Tung and Striebel 1965. step_var as in `filter_level`.
    """
    step = np.broadcast_to(np.asarray(step_var, float), filtered.mean.shape)
    mean, var = filtered.mean.copy(), filtered.var.copy()
    for t in range(mean.shape[-1] - 2, -1, -1):
        known = np.isfinite(filtered.var[..., t])
        here = np.where(known, filtered.var[..., t], 1.0)
        predicted = here + step[..., t + 1]
        share = here / predicted
        ahead = mean[..., t + 1] - filtered.mean[..., t]
        mean[..., t] = np.where(known, filtered.mean[..., t] + share * ahead, mean[..., t + 1])
        narrowed = here + share**2 * (var[..., t + 1] - predicted)
        var[..., t] = np.where(known, narrowed, var[..., t + 1] + step[..., t + 1])
    return mean, var


def fit_variances(values: ArrayLike) -> tuple[float, float]:
    """Noise and step variance of an equally spaced series by maximum diffuse likelihood.

    The noise variance is concentrated out (Durbin and Koopman 2012, section 2.10.2), which leaves one
    unknown, the ratio of the two, found on a grid and refined by golden section.
    """
    y = np.asarray(values, float)
    grid = np.linspace(-12.0, 6.0, 73)
    scores = _concentrated(y, np.exp(grid))[0]
    best = int(np.argmax(scores))
    low, high = grid[max(best - 1, 0)], grid[min(best + 1, grid.size - 1)]
    while high - low > 1e-9:
        a, b = high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)
        score_a, score_b = _concentrated(y, np.exp(np.array([a, b])))[0]
        low, high = (low, b) if score_a > score_b else (a, high)
    ratio = np.exp(np.array([(low + high) / 2.0]))
    noise = float(_concentrated(y, ratio)[1][0])
    return noise, noise * float(ratio[0])


def _concentrated(y: Array, ratios: Array) -> tuple[Array, Array]:
    """Concentrated log-likelihood and noise variance for each ratio of step to noise, shape (ratios,)."""
    level, spread = np.full(ratios.shape, y[0]), np.ones(ratios.shape)
    squares, logs = np.zeros(ratios.shape), np.zeros(ratios.shape)
    for value in y[1:]:
        total = spread + ratios + 1.0
        error = value - level
        squares += error**2 / total
        logs += np.log(total)
        gain = (spread + ratios) / total
        level, spread = level + gain * error, gain
    noise = squares / (y.size - 1)
    return -0.5 * ((y.size - 1) * np.log(noise) + logs), noise
