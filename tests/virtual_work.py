"""Virtual work: what the joints do against what the bar and the segments gain in height.

A second road to the moments: no free-body diagram, only angular velocities of the parts and potential energy.
"""

from __future__ import annotations

import dataclasses

import numpy as np

from analysis.core.body.body import Body
from analysis.core.pull.moments import joint_vectors, knee_axis, loads_of, moments_of
from analysis.core.pull.pull import Postures, postures_at, rig_of
from analysis.core.pull.setups import DEFAULT_SETUPS, filled_setup, setup_arrays

LOAD_KG = 200.0
STEP_M = 2e-6
SHARES = np.linspace(0.004, 0.985, 41)


def _of(vector):
    return np.stack([np.broadcast_to(part, vector[1].shape) for part in vector], axis=-1)


def _frames(near, far, axis):
    """Orthonormal frames (..., 3, 3) of a leg part: its long axis and the knee's axis."""
    long = far - near
    long /= np.linalg.norm(long, axis=-1, keepdims=True)
    return np.stack([long, axis, np.cross(long, axis)], axis=-1)


def _turn(before, after):
    """Small rotation vector from one frame to another."""
    change = after @ np.swapaxes(before, -1, -2)
    return 0.5 * np.stack(
        [
            change[..., 2, 1] - change[..., 1, 2],
            change[..., 0, 2] - change[..., 2, 0],
            change[..., 1, 0] - change[..., 0, 1],
        ],
        axis=-1,
    )


def _height(w, p: Postures):
    """Potential energy (J) of everything that moves."""
    beyond = (w.chest_x - p.mid_x) / np.cos(p.upper_trunk)
    pelvis = (w.pelvis_x - p.hip_x) / np.cos(p.lower_trunk)
    lumbar = (w.lumbar_x - p.hip_x) / np.cos(p.lower_trunk)
    thigh_share = (w.thigh_y - p.hip_y) / (p.knee_y - p.hip_y)
    shank_share = (w.shank_y - p.knee_y) / (p.ankle_y - p.knee_y)
    arm_share = (w.arms_x - p.shoulder_x) / (p.bar_x - p.shoulder_x)
    return (
        w.bar * p.z
        + w.arms * (p.shoulder_z + arm_share * (p.z - p.shoulder_z))
        + w.chest * (p.mid_z + beyond * np.sin(p.upper_trunk))
        + w.lumbar * (p.hip_z + lumbar * np.sin(p.lower_trunk))
        + w.pelvis * (p.hip_z + pelvis * np.sin(p.lower_trunk))
        + w.thigh * (p.hip_z + thigh_share * (p.knee_z - p.hip_z))
        + w.shank * (p.knee_z + shank_share * (p.ankle_z - p.knee_z))
    )


def _at(p: Postures, which: int) -> Postures:
    return Postures(**{f.name: getattr(p, f.name)[..., which::3] for f in dataclasses.fields(Postures)})


def work_and_gain(body: Body, push: float) -> tuple[np.ndarray, np.ndarray]:
    """Work of joints, shoulder and girdle over micrometres of bar height, and the gain in height (J), four styles."""
    r = rig_of(body, setup_arrays([filled_setup(asked) for asked in DEFAULT_SETUPS], body))
    start = r.setups.start_height
    centre = start + (r.lockout_z - start) * SHARES
    z = (centre[..., None] + STEP_M * np.array([-1.0, 0.0, 1.0])).reshape(*centre.shape[:2], -1)
    every = postures_at(r, z)
    before, now, after = (_at(every, which) for which in range(3))
    w = loads_of(r.body, r.setups, now, LOAD_KG)
    vectors = joint_vectors(w, r.setups, now, push)

    def leg(p, part):
        axis = _of(knee_axis(r.setups, p))
        hip = np.stack([p.hip_x, p.hip_y, p.hip_z], axis=-1)
        knee = np.stack([p.knee_x, p.knee_y, p.knee_z], axis=-1)
        ankle = np.stack([0.0 * p.z, p.ankle_y, p.ankle_z], axis=-1)
        return _frames(hip, knee, axis) if part == "thigh" else _frames(knee, ankle, axis)

    thigh = _turn(leg(before, "thigh"), leg(after, "thigh"))
    shank = _turn(leg(before, "shank"), leg(after, "shank"))
    lower, upper = (after.lower_trunk - before.lower_trunk), (after.upper_trunk - before.upper_trunk)
    pelvis = np.stack([0.0 * lower, -lower, 0.0 * lower], axis=-1)
    legs = (
        (_of(vectors.hip) * (thigh - pelvis)).sum(-1)
        + (_of(vectors.knee) * (shank - thigh)).sum(-1)
        - (_of(vectors.ankle) * shank).sum(-1)
    )
    trunk = moments_of(r.body, r.setups, now, push).trunk.at(LOAD_KG) * (upper - lower)
    arm_turn = -(after.arm_angle - before.arm_angle)
    about_shoulder = w.bar * (now.bar_x - now.shoulder_x) + w.arms * (w.arms_x - now.shoulder_x)
    arm_share = (w.arms_x - now.shoulder_x) / (now.bar_x - now.shoulder_x)
    girdle = -(w.bar + w.arms * arm_share) * np.cos(now.arm_angle) * (after.arm_reach - before.arm_reach)
    work = legs + trunk + about_shoulder * (arm_turn - upper) + girdle
    w_before, w_after = (loads_of(r.body, r.setups, p, LOAD_KG) for p in (before, after))
    gain = _height(w_after, after) - _height(w_before, before)
    return work, gain
