"""How strength changes with the joint's angle: shares of the greatest, 0 to 1."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from analysis.core.strength import constants as c

FloatArray = npt.NDArray[np.float64]


def hip_shape(flexion: FloatArray, male: npt.NDArray[np.bool_]) -> FloatArray:
    """Hip extension strength at `flexion` (rad, 0 straight); cosine of Anderson 2007 with a flatter C2."""
    peak = np.where(male, c.HIP_PEAK_MAN, c.HIP_PEAK_WOMAN)
    return np.maximum(np.cos(c.HIP_WIDTH * (flexion - peak)), c.LEAST_SHAPE)


def knee_shape(flexion: FloatArray, male: npt.NDArray[np.bool_]) -> FloatArray:
    """Knee extension strength at `flexion` (rad, 0 straight); cosine of Anderson 2007 with a flatter C2."""
    peak = np.where(male, c.KNEE_PEAK_MAN, c.KNEE_PEAK_WOMAN)
    return np.maximum(np.cos(c.KNEE_WIDTH * (flexion - peak)), c.LEAST_SHAPE)


def trunk_shape(bend: FloatArray, bend_rate: FloatArray) -> FloatArray:
    """Trunk extension strength at spinal flexion `bend` (rad) that changes by `bend_rate` (rad per pull).

    Rises with flexion (Graves 1990; Mawston 2021); holding, or giving way while rounding, is stronger than shortening.
    """
    flexed = np.clip(bend / c.TRUNK_FULL_FLEXION + c.TRUNK_SET, 0.0, 1.0)
    held = c.TRUNK_EXTENDED + (1.0 - c.TRUNK_EXTENDED) * flexed
    return np.asarray(
        held * np.maximum(1.0 - c.STRAIGHTENING_COST * np.maximum(-bend_rate, 0.0) / c.STRAIGHTENING_RATE, 0.1)
    )
