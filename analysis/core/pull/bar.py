"""The bending bar: how far the hands rise before the discs leave the floor, and what the hands carry till then.

| Symbol | Unit | Meaning |
|---|---|---|
| P, W | N, kg | half the load's weight; the load with the bar |
| a, g | m | overhang from a hand to the middle of its disc stack; distance between the hands |
| d, E, I | m, Pa, m^4 | shaft diameter; Young's modulus; second moment of area pi d^4 / 64 |
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from analysis.core.body.constants import (
    BAR_AND_COLLARS_KG,
    BAR_RADIUS_M,
    DISC_MASS_KG,
    DISC_THICKNESS_M,
    STEEL_MODULUS_PA,
)
from athletes.schema.units import GRAVITY

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class BarPreset:
    """A bar: shaft diameter and length between the collars (m); `bends` says whether its bending is counted."""

    diameter_m: float
    span_m: float
    bends: bool


BAR_PRESETS: dict[str, BarPreset] = {
    "unknown": BarPreset(2.0 * BAR_RADIUS_M, 1.31, bends=False),
    "stiff": BarPreset(0.029, 1.31, bends=True),
    "training": BarPreset(0.028, 1.31, bends=True),
    "flexible": BarPreset(0.027, 1.41, bends=True),
}


def overhang(load_kg: float, hand_spacing_m: float, span_m: float) -> float:
    """Distance (m) from a hand to the middle of the disc stack outside the collar, 25 kg steel discs."""
    discs = max(load_kg - BAR_AND_COLLARS_KG, 0.0) / 2.0 / DISC_MASS_KG
    return max(span_m / 2.0 + discs * DISC_THICKNESS_M / 2.0 - hand_spacing_m / 2.0, 0.0)


def rise_of_hands(load_kg: float, hand_spacing_m: float, diameter_m: float, span_m: float) -> float:
    """Rise (m) of the hands before the discs leave the floor, `load_kg` with the bar.

    Euler-Bernoulli beam held at two hands g apart, half the load P at the overhang a on each side:
    P a^2 (2 a + 3 g) / (6 E I), I = pi d^4 / 64. Statics; the whole stack leaves at once; not checked against a
    measured bar (none was found), meant for 100-400 kg.
    """
    arm = overhang(load_kg, hand_spacing_m, span_m)
    stiffness = STEEL_MODULUS_PA * math.pi * diameter_m**4 / 64.0
    weight = max(load_kg, 0.0) * GRAVITY / 2.0
    return weight * arm**2 * (2.0 * arm + 3.0 * hand_spacing_m) / (6.0 * stiffness)


def carried_load(load_kg: float, rise_m: FloatArray | float, above_start_m: FloatArray) -> FloatArray:
    """Load (kg) in the hands at heights above the start: grows evenly over the rise, then the whole load.

    A rise of 0 is a rigid bar: the whole load from the start on. `rise_m` broadcasts against the heights.
    """
    rise = np.asarray(rise_m, dtype=np.float64)
    share = np.clip(above_start_m / np.where(rise > 0.0, rise, 1.0), 0.0, 1.0)
    return np.asarray(load_kg * np.where(rise > 0.0, share, 1.0))
