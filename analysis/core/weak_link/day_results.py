"""Makes and misses as evidence on a level: a probit on load over level, with one shared effect a day."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
import numpy.typing as npt

from analysis.core.estimates.normal import normal_cdf

FloatArray = npt.NDArray[np.float64]
LIFT_SD = 0.015  # log; lift to lift within one day (calibration)
_GRID = np.linspace(-4.0, 4.0, 81)
_NODES, _NODE_WEIGHTS = np.polynomial.hermite_e.hermegauss(11)


@dataclass(frozen=True, slots=True)
class DayResult:
    """One attempt: its day, log of load over the level on that day, and whether it was made."""

    day: date
    log_share: float
    made: bool


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
