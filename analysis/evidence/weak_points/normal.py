"""The normal distribution function, for arrays."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]

_P = 0.2316419
_B = (0.319381530, -0.356563782, 1.781477937, -1.821255978, 1.330274429)


def normal_cdf(x: FloatArray) -> FloatArray:
    """Standard normal distribution function, error below 1e-7 (Abramowitz and Stegun 1964, 26.2.17)."""
    x = np.asarray(x, float)
    t = 1.0 / (1.0 + _P * np.abs(x))
    tail = np.exp(-0.5 * x * x) / np.sqrt(2.0 * np.pi) * (t * np.polynomial.polynomial.polyval(t, np.array(_B)))
    return np.where(x >= 0.0, 1.0 - tail, tail)
