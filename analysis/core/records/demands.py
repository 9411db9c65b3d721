"""What each kind of lift asks of each link, and what a link gives at multiplier 1: the mechanics in numbers.

Mechanics fills these tables and evidence reads them; neither knows the other.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]

JOINT_LINKS = ("hip", "knee", "adductor", "trunk")  # rows of a, b and capacity
STRENGTHS = ("hips", "legs", "back", "grip")  # the athlete's own multipliers, in this order everywhere
STRENGTH_OF_LINK = (0, 1, 1, 2)  # the multiplier that scales each row


@dataclass(frozen=True, slots=True, eq=False)  # compared by identity, so that work on it can be kept
class KindDemand:
    """One lift in one setup over the heights of its pull, links x push x heights.

    The moment at a link under a load of W kg is a * W + b (N m); a link of multiplier m gives m * capacity (N m).
    z is the height of the hands in m from `z[0]` (start) to `z[-1]` (lockout); u = 0 at the floor start of 0.225 m
    and 1 at lockout. `bend_kg` is the load that a bending bar has put into the hands at each height (inf = rigid).
    `grip_kg` is what the grip holds at multiplier 1 (inf with straps and in squats). The lifter's best is the
    mechanics' best times exp(style factor), whose mean and SD (log) are `style_mean` and `style_sd`; lifts of one
    `family` share that factor. `body_sd` (log) is how far the best moves over draws of the body.
    """

    key: str
    lift: str
    style: str
    family: str
    start_offset_m: float
    z: FloatArray
    u: FloatArray
    push: FloatArray
    a: FloatArray
    b: FloatArray
    capacity: FloatArray
    valid: npt.NDArray[np.bool_]
    knee_z: float
    bend_kg: FloatArray
    grip_kg: float
    style_mean: float = 0.0
    style_sd: float = 0.0
    body_sd: float = 0.0


@dataclass(frozen=True, slots=True)
class StrengthPrior:
    """Log-normal prior of the four multipliers: log means, log SDs, correlation matrix."""

    log_mean: FloatArray
    log_sd: FloatArray
    correlation: FloatArray


@dataclass(frozen=True, slots=True)
class DemandTable:
    """All kinds of lift of one athlete, with the prior of the strengths."""

    kinds: tuple[KindDemand, ...]
    prior: StrengthPrior

    def index(self, key: str) -> int:
        """The place of the kind called `key`; KeyError when there is none."""
        for place, kind in enumerate(self.kinds):
            if kind.key == key:
                return place
        raise KeyError(key)
