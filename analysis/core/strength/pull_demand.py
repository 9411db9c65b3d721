"""Demands and capacities of pulls: links x push x athletes x styles x heights in one call.

The back's demand is the moment at L4/L5, where a lumbar extension machine that holds the pelvis has its axis (Graves
1990); held at the spinal joint further up, a lifter limited by the back would gain nothing from a block.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from analysis.core.body.body import Body
from analysis.core.pull.moments import moments_of
from analysis.core.pull.posture import spinal_bend
from analysis.core.pull.pull import Postures, postures_at, problem_of, rig_of
from analysis.core.pull.setups import Setups
from analysis.core.strength.reference import reference_strength
from analysis.core.strength.shapes import hip_shape, knee_shape, trunk_shape

FloatArray = npt.NDArray[np.float64]

PUSH = np.linspace(0.0, 1.0, 6)
HEIGHTS = 31
FINE_M = np.array([0.0, 0.003, 0.006, 0.010, 0.015, 0.020, 0.027, 0.035])  # a bar bends over these first heights


@dataclass(frozen=True, slots=True)
class Demands:
    """Arrays athletes x kinds, then links x push x heights (a, b), links x heights (capacity), heights (z, u, valid).

    a in N m per kg, b and capacity in N m, for multiplier 1. `problem` is 0 where the setup is possible.
    """

    z: FloatArray
    u: FloatArray
    a: FloatArray
    b: FloatArray
    capacity: FloatArray
    valid: npt.NDArray[np.bool_]
    knee_z: FloatArray
    problem: npt.NDArray[np.int64]


def _heights(start: FloatArray, top: FloatArray) -> FloatArray:
    """Bar heights from the start to lockout, close together at first."""
    even = np.linspace(0.0, 1.0, HEIGHTS - len(FINE_M) + 1)[1:]
    fine_end = start + FINE_M[-1]
    rest = fine_end + (top - fine_end) * even
    return np.concatenate([start + FINE_M, rest], axis=-1)


def pull_demands(body: Body, setups: Setups, age: float | None = None) -> Demands:
    """Demands of every athlete in every setup; setups as arrays of shape (kinds,)."""
    rig = rig_of(body, setups)
    with np.errstate(invalid="ignore"):
        z = _heights(rig.setups.start_height + 0.0 * rig.lockout_z, rig.lockout_z)
        postures = postures_at(rig, z)
        moments = moments_of(rig.body, rig.setups, postures, PUSH[:, None, None, None])
        knee = moments.knee_demand
    shape = (len(PUSH), *z.shape)
    lines = (moments.hip, knee, moments.adductor, moments.l4l5)
    a = np.stack([np.broadcast_to(line.a, shape) for line in lines])
    b = np.stack([np.broadcast_to(line.b, shape) for line in lines])
    valid = np.isfinite(postures.hip_x) & np.isfinite(a).all(axis=(0, 1))
    order = (2, 3, 0, 1, 4)  # links, push, athletes, kinds, heights -> athletes, kinds, links, push, heights
    return Demands(
        z=z,
        u=postures.u,
        a=np.nan_to_num(a.transpose(order)),
        b=np.nan_to_num(b.transpose(order)),
        capacity=np.nan_to_num(_capacity(body, rig.setups, postures, age)),
        valid=valid,
        knee_z=np.broadcast_to(rig.knee_z[..., 0], z.shape[:2]),
        problem=problem_of(rig, postures),
    )


def _capacity(body: Body, setups: Setups, p: Postures, age: float | None) -> FloatArray:
    """N m at multiplier 1, athletes x kinds x links x heights."""
    greatest = reference_strength(body, age)[:, :, None, None]
    male = body.male[:, None, None]
    shapes = [
        hip_shape(p.hip_flexion, male),
        knee_shape(p.knee_flexion, male),
        np.ones_like(p.z),
        trunk_shape(p.spinal_flexion, bend_rate(setups, p.u)),
    ]
    return np.stack([g * s for g, s in zip(greatest, shapes, strict=True)], axis=2)


def bend_rate(setups: Setups, u: FloatArray) -> FloatArray:
    """Change of spinal flexion per whole pull (rad), from the posture's own straightening."""
    step = 1e-4
    return np.asarray((spinal_bend(setups, u + step) - spinal_bend(setups, u - step)) / (2.0 * step))


def fully_possible(demands: Demands) -> npt.NDArray[np.bool_]:
    """Athletes x kinds whose every height can be held."""
    return np.asarray((demands.problem == 0) & demands.valid.all(axis=-1))
