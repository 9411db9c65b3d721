"""Squats as demands on the same links: hips level with knees at the bottom, bar over mid-foot on the way up."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from analysis.core.body import constants as mc
from analysis.core.body.body import DE_LEVA, Body, arm_lump, by_sex, trunk_lumps
from analysis.core.strength import constants as c
from analysis.core.strength.pull_demand import HEIGHTS, PUSH, Demands
from analysis.core.strength.reference import reference_strength
from analysis.core.strength.shapes import hip_shape, knee_shape, trunk_shape
from athletes.schema.units import GRAVITY

FloatArray = npt.NDArray[np.float64]


def squat_demands(body: Body, front: bool, age: float | None = None) -> Demands:
    """Demands of a parallel back or front squat, shaped as pulls with one kind (athletes x 1 x ...).

    Thighs rise from level to upright; the shank's lean shrinks with them; the trunk leans so that the bar stays over
    mid-foot. Knees follow the feet, so the hips ask nothing of the adductors. Quasi-static; a lean that cannot bring
    the bar over mid-foot is taken as upright.
    """
    column = body.mapped(lambda array: array[:, None])
    rise = np.linspace(0.0, np.pi / 2.0, HEIGHTS)[None]
    place = _posture(column, rise, front)
    lines = [_line(column, place, with_bar=1.0, own=0.0), _line(column, place, with_bar=0.0, own=1.0)]
    a, b = (np.broadcast_to(x[:, None, :, None], (x.shape[0], 1, 4, len(PUSH), HEIGHTS)) for x in lines)
    z = place["bar_z"][:, None]
    u = (z - z[..., :1]) / (z[..., -1:] - z[..., :1])
    return Demands(
        z=z,
        u=u,
        a=a,
        b=b,
        capacity=_capacity(body, place, age)[:, None],
        valid=np.ones(z.shape, bool),
        knee_z=z[..., 0],
        problem=np.zeros(z.shape[:2], np.int64),
    )


def _posture(body: Body, rise: FloatArray, front: bool) -> dict[str, FloatArray]:
    """Sagittal places (m, origin below the ankles) and angles (rad) with the thigh `rise` above the horizontal."""
    lean = (c.FRONT_SHANK_LEAN if front else c.SQUAT_SHANK_LEAN) * np.cos(rise)
    turn = np.cos(c.SQUAT_TURNOUT)
    knee_x, knee_z = body.shank * np.sin(lean) * turn, body.ankle + body.shank * np.cos(lean)
    hip_x, hip_z = knee_x - body.thigh * np.cos(rise) * turn, knee_z + body.thigh * np.sin(rise)
    ahead = c.FRONT_BAR_AHEAD if front else -c.BACK_BAR_BEHIND
    along = body.trunk - (0.0 if front else c.BACK_BAR_DOWN)
    arm = np.hypot(along, ahead)
    bar_x = (mc.MID_FOOT - mc.HEEL_BEHIND_ANKLE) * body.foot * turn + 0.0 * rise
    trunk_lean = np.maximum(np.arcsin(np.clip((bar_x - hip_x) / arm, -1.0, 1.0)) - np.arctan2(ahead, along), 0.0)
    return {
        "knee_x": knee_x,
        "knee_along": body.shank * np.sin(lean),
        "hip_x": hip_x,
        "bar_x": bar_x,
        "bar_z": hip_z + along * np.cos(trunk_lean) - ahead * np.sin(trunk_lean),
        "trunk_lean": trunk_lean,
        "knee_flexion": lean + np.pi / 2.0 - rise,
        "hip_flexion": np.pi / 2.0 - rise + trunk_lean,
    }


def _line(body: Body, p: dict[str, FloatArray], with_bar: float, own: float) -> FloatArray:
    """Moments of hip, knee demand, adductors (0) and trunk, both legs, athletes x links x heights (N m)."""
    weight = own * body.mass * GRAVITY
    bar = with_bar * GRAVITY
    arms = by_sex(body, lambda sex: arm_lump(sex).mass) * weight
    parts = [_lump(body, i) for i in range(3)]
    sin = np.sin(p["trunk_lean"])
    joint = mc.L4L5 * body.trunk
    forward = bar * (p["bar_x"] - p["hip_x"]) + arms * body.trunk * sin
    hip = forward + sum(m * weight * at * sin for m, at in parts)
    above_joint = arms * (body.trunk - joint) + sum(m * weight * (at - joint) for m, at in parts[1:])
    trunk = bar * (p["bar_x"] - p["hip_x"] - joint * sin) + above_joint * sin
    shank = by_sex(body, lambda sex: 2.0 * (DE_LEVA[sex]["shank"].mass + DE_LEVA[sex]["foot"].mass)) * weight
    above = bar + weight - shank
    centre = p["bar_x"] / np.cos(c.SQUAT_TURNOUT)  # of pressure, along the foot
    knee = above * (p["knee_along"] - centre)
    demand = knee + mc.HAMSTRING_SHARE * mc.HAMSTRING_KNEE_LEVER * hip
    return np.stack([hip, demand, np.zeros_like(hip), trunk], axis=1)


def _lump(body: Body, index: int) -> tuple[FloatArray, FloatArray]:
    mass = by_sex(body, lambda sex: trunk_lumps(sex)[index].mass)
    return mass, by_sex(body, lambda sex: trunk_lumps(sex)[index].place) * body.trunk


def _capacity(body: Body, p: dict[str, FloatArray], age: float | None) -> FloatArray:
    greatest = reference_strength(body, age)[:, :, None]
    male = body.male[:, None]
    still = np.full_like(p["bar_z"], c.SQUAT_SPINE)
    shapes = [
        hip_shape(p["hip_flexion"], male),
        knee_shape(p["knee_flexion"], male),
        np.ones_like(p["bar_z"]),
        trunk_shape(still, np.zeros_like(still)),
    ]
    return np.stack([g * s for g, s in zip(greatest, shapes, strict=True)], axis=1)
