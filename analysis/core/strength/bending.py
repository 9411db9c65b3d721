"""The best on a bar that bends by as much as this very load bends it, and what another bar would give."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from analysis.core.pull.bar import BarPreset, rise_of_hands
from analysis.core.strength.limits import best_of

FloatArray = npt.NDArray[np.float64]
ROUNDS = 8
FINE_M = np.arange(0.0, 0.0605, 0.001)  # heights above the start that a bending bar is worked out at


def finely(allowed: FloatArray, z: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Allowed loads (n, heights) and heights (heights,), m, interpolated to 1 mm over the first 6 cm."""
    fine = np.concatenate([z[0] + FINE_M, z[z > z[0] + FINE_M[-1] + 1e-9]])
    return np.stack([np.interp(fine, z, row) for row in np.atleast_2d(allowed)]), fine


def best_on_bar(allowed: FloatArray, z: FloatArray, hand_spacing_m: float, bar: BarPreset) -> FloatArray:
    """Largest load (n,), kg, whose share already in the hands stays within the allowed load at every height.

    The load comes on evenly over the rise of the hands that this load gives (Euler-Bernoulli, see `bar`). Found from
    the rigid bar's best upwards: a heavier load bends the bar further, so each round can only add.
    """
    fine_allowed, fine = finely(allowed, z)
    best = np.asarray(fine_allowed.min(axis=-1))
    if not bar.bends:
        return best
    for _ in range(ROUNDS):
        rise = np.array([max(rise_of_hands(float(w), hand_spacing_m, bar.diameter_m, bar.span_m), 1e-6) for w in best])
        best = np.maximum(best, best_of(fine_allowed, (best / rise)[:, None] * (fine - fine[0])))
    return best
