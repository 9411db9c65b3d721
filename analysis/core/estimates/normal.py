"""The normal distribution without a statistics library: distribution function and quantiles of mixtures."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]
_ERF = (0.254829592, -0.284496736, 1.421413741, -1.453152027, 1.061405429)


def normal_cdf(z: ArrayLike) -> Array:
    """Chance that a standard normal is below z, any shape.

    Abramowitz and Stegun 1964, formula 7.1.26 for the error function: absolute error below 1e-7.
    """
    x = np.asarray(z, float)
    t = 1.0 / (1.0 + 0.3275911 * np.abs(x) / np.sqrt(2.0))
    tail = t * (_ERF[0] + t * (_ERF[1] + t * (_ERF[2] + t * (_ERF[3] + t * _ERF[4]))))
    upper = 0.5 * tail * np.exp(-(x**2) / 2.0)
    return np.asarray(np.where(x > 0, 1.0 - upper, upper), float)


def mixture_cdf(at: ArrayLike, weights: Array, means: Array, sds: Array) -> Array:
    """Chance below `at`, shape (...), of mixtures of normals with parts on the last axis, shape (..., parts)."""
    z = (np.asarray(at, float)[..., None] - means) / sds
    return np.asarray(np.sum(weights * normal_cdf(z), axis=-1))


def mixture_quantile(chance: float, weights: Array, means: Array, sds: Array) -> Array:
    """The value below which a mixture of normals lies with `chance`, shape (...), by bisection."""
    low, high = np.min(means - 8.0 * sds, axis=-1), np.max(means + 8.0 * sds, axis=-1)
    for _ in range(50):
        middle = (low + high) / 2.0
        below = mixture_cdf(middle, weights, means, sds) < chance
        low, high = np.where(below, middle, low), np.where(below, high, middle)
    return np.asarray((low + high) / 2.0)
