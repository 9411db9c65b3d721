"""What the weakest link allows: over heights, at the best push, and the bar's bending counted in."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from analysis.core.records.demands import STRENGTH_OF_LINK

FloatArray = npt.NDArray[np.float64]
UNLIMITED_KG = 1e4
_MEMBER = np.array(STRENGTH_OF_LINK)


def allowed_by_link(a: FloatArray, b: FloatArray, capacity: FloatArray, multipliers: FloatArray) -> FloatArray:
    """Load each link allows, kg, (..., links, push, heights).

    a, b (..., links, push, heights); capacity (..., links, heights); multipliers (..., 3 or 4): hips, legs, back.
    (m * capacity - b) / a; a link on which the load does not press (a <= 0) does not limit unless it already fails.
    """
    force = (multipliers[..., _MEMBER, None] * capacity)[..., None, :] - b
    pressed = a > 1e-6
    load = np.where(pressed, force / np.where(pressed, a, 1.0), np.where(force > 0.0, UNLIMITED_KG, 0.0))
    return np.asarray(np.minimum(load, UNLIMITED_KG))


def allowed_by_strength(a: FloatArray, b: FloatArray, capacity: FloatArray, multipliers: FloatArray) -> FloatArray:
    """Load hips, legs and back allow, kg, (..., 3, heights), each at the push that lets the weakest carry most.

    At every height the push is one for all links: the one with the greatest least load.
    """
    load = allowed_by_link(a, b, capacity, multipliers)
    by_strength = np.stack([load[..., s == _MEMBER, :, :].min(axis=-3) for s in range(3)], axis=-3)
    # among pushes equally good for the weakest link the one that also leaves the legs most
    weakest = by_strength.min(axis=-3) + 1e-6 * by_strength[..., 1, :, :]
    chosen = weakest.argmax(axis=-2)[..., None, None, :]
    return np.asarray(np.take_along_axis(by_strength, chosen, axis=-2)[..., 0, :])


def best_of(allowed: FloatArray, bend_kg: FloatArray | float = np.inf) -> FloatArray:
    """Largest W (kg) with min(W, load the bent bar has put into the hands) <= allowed at every height."""
    return np.asarray(np.where(allowed >= bend_kg, np.inf, allowed).min(axis=-1))
