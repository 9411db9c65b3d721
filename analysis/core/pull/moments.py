"""Joint moments of a posture, quasi-static: every one is a(z) * load + b(z), both legs together.

The bar and the segments' weights act down; the ground answers up at the centre of pressure, which lies on the foot's
axis under the centre of all weight. On each leg the ground force also leans inward by a share `push` of what would
aim it at the hip ("push the floor apart"). The inward part acts through mid-foot, as friction spread over the sole
does; against the centre of pressure that is a free vertical torque of a few N m, and it keeps moments affine in load.
The bar's weight acts where the bar is: its drift and its place over the foot move every moment.

Frame: x forward, y to the near side, z up (m), origin on the floor below the ankle joints.

| Symbol | Unit | Meaning |
|---|---|---|
| a, b | N m/kg, N m | moment = a load + b, both legs together; extensor, plantar flexor, adductor positive |
| up, up_x, up_y | N, N m | the ground's vertical force and its first moments about the origin |
| inward, push | N, 1 | the ground's force toward the midline; its share of what would aim it at the hip |
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from analysis.core.body import constants as c
from analysis.core.body.body import DE_LEVA, Body, arm_lump, by_sex, trunk_lumps
from analysis.core.pull.pull import Postures
from analysis.core.pull.setups import Setups
from athletes.schema.units import GRAVITY

FloatArray = npt.NDArray[np.float64]


class Vector(NamedTuple):
    """x, y, z parts of a moment on the near side's frame, both legs summed as if on that side (N m)."""

    x: FloatArray
    y: FloatArray
    z: FloatArray


@dataclass(frozen=True, slots=True)
class JointVectors:
    """Moments that each joint's proximal part puts on its distal part (N m), for one load and body weight."""

    hip: Vector
    knee: Vector
    ankle: Vector


@dataclass(frozen=True, slots=True)
class Loads:
    """Weights (N) and places of everything in a posture; legs' entries are both legs together."""

    bar: FloatArray
    foot: FloatArray
    shank: FloatArray
    thigh: FloatArray
    pelvis: FloatArray
    lumbar: FloatArray
    chest: FloatArray
    arms: FloatArray
    foot_x: FloatArray
    foot_y: FloatArray
    shank_x: FloatArray
    shank_y: FloatArray
    thigh_x: FloatArray
    thigh_y: FloatArray
    pelvis_x: FloatArray
    lumbar_x: FloatArray
    chest_x: FloatArray
    arms_x: FloatArray

    @property
    def total(self) -> FloatArray:
        """Everything the ground carries (N)."""
        return self.bar + self.foot + self.shank + self.thigh + self.pelvis + self.lumbar + self.chest + self.arms


def loads_of(body: Body, setups: Setups, p: Postures, load_kg: float) -> Loads:
    """Weights and places of the body with `load_kg` in the hands."""
    weight = body.mass * GRAVITY

    def share(segment: str) -> FloatArray:
        return by_sex(body, lambda sex: 2.0 * DE_LEVA[sex][segment].mass)

    def centre(segment: str) -> FloatArray:
        return by_sex(body, lambda sex: DE_LEVA[sex][segment].centre)

    def lump(index: int) -> tuple[FloatArray, FloatArray]:
        mass = by_sex(body, lambda sex: trunk_lumps(sex)[index].mass)
        return mass, by_sex(body, lambda sex: trunk_lumps(sex)[index].place) * body.trunk

    (pelvis, pelvis_at), (lumbar, lumbar_at), (chest, chest_at) = lump(0), lump(1), lump(2)
    beyond = chest_at - c.SPINAL_JOINT * body.trunk
    toward_toe = (centre("foot") - c.HEEL_BEHIND_ANKLE) * body.foot
    arm_place = by_sex(body, lambda sex: arm_lump(sex).place)
    from_hip, from_knee = centre("thigh"), centre("shank")
    cos_low = np.cos(p.lower_trunk)
    return Loads(
        bar=np.asarray(load_kg * GRAVITY + 0.0 * p.z),
        foot=share("foot") * weight,
        shank=share("shank") * weight,
        thigh=share("thigh") * weight,
        pelvis=pelvis * weight,
        lumbar=lumbar * weight,
        chest=chest * weight,
        arms=by_sex(body, lambda sex: arm_lump(sex).mass) * weight,
        foot_x=toward_toe * np.cos(setups.turnout),
        foot_y=p.ankle_y + toward_toe * np.sin(setups.turnout),
        shank_x=p.knee_x * (1.0 - from_knee),
        shank_y=p.knee_y + from_knee * (p.ankle_y - p.knee_y),
        thigh_x=p.hip_x + from_hip * (p.knee_x - p.hip_x),
        thigh_y=p.hip_y + from_hip * (p.knee_y - p.hip_y),
        pelvis_x=p.hip_x + pelvis_at * cos_low,
        lumbar_x=p.hip_x + lumbar_at * cos_low,
        chest_x=p.mid_x + beyond * np.cos(p.upper_trunk),
        arms_x=p.shoulder_x + arm_place * (p.bar_x - p.shoulder_x),
    )


def one_kg_alone(w: Loads) -> Loads:
    """The same places with 1 kg in the hands of a body without weight."""
    nothing = np.zeros(1)
    parts = dict.fromkeys(("foot", "shank", "thigh", "pelvis", "lumbar", "chest", "arms"), nothing)
    return replace(w, bar=np.asarray(GRAVITY + 0.0 * w.bar), **parts)


def _above(w: Loads, p: Postures, x: FloatArray, parts: tuple[str, ...]) -> FloatArray:
    """Forward-bending moment (N m) about a sagittal point x of the bar, the arms and the named trunk parts."""
    total = w.bar * (p.bar_x - x) + w.arms * (w.arms_x - x)
    for part in parts:
        total = total + getattr(w, part) * (getattr(w, part + "_x") - x)
    return np.asarray(total)


def hip_sagittal(w: Loads, p: Postures) -> FloatArray:
    """Hip extension moment about the side-to-side axis (N m), from the weights above the hip."""
    return _above(w, p, p.hip_x, ("pelvis", "lumbar", "chest"))


@dataclass(frozen=True, slots=True)
class Ground:
    """What the ground puts on both feet: force up, its first moments, and the inward force (N, N m)."""

    up: FloatArray
    up_x: FloatArray
    up_y: FloatArray
    inward: FloatArray


def usable_push(setups: Setups, p: Postures, push: FloatArray | float) -> FloatArray:
    """`push` bounded by friction: the ground force never leans more than the friction number."""
    mid_foot_y = p.ankle_y + p.mid_foot_x * np.tan(setups.turnout)
    slope = np.abs(mid_foot_y - p.hip_y) / p.hip_z
    return np.asarray(np.minimum(push, c.FRICTION / np.maximum(slope, 1e-9)))


def ground_of(w: Loads, setups: Setups, p: Postures, push: FloatArray | float) -> Ground:
    """The ground's answer: as much force as weight, under it, leaning inward by the usable push."""
    up = w.total
    up_x = (
        _above(w, p, np.zeros_like(p.z), ("pelvis", "lumbar", "chest"))
        + w.thigh * w.thigh_x
        + w.shank * w.shank_x
        + w.foot * w.foot_x
    )
    up_y = up * p.ankle_y + np.tan(setups.turnout) * up_x
    inward = usable_push(setups, p, push) * (up_y - up * p.hip_y) / p.hip_z
    return Ground(up, up_x, up_y, inward)


def _held(
    g: Ground, w: Loads, p: Postures, at: tuple[FloatArray, FloatArray, FloatArray], parts: tuple[str, ...]
) -> Vector:
    """The moment the part above puts on the part below a joint: minus that of the ground and the parts' weight."""
    x, y, z = at
    mx = g.up_y - g.up * y - z * g.inward
    my = g.up * x - g.up_x
    mz = -(p.mid_foot_x - x) * g.inward
    for part in parts:
        weight = getattr(w, part)
        mx = mx - weight * (getattr(w, part + "_y") - y)
        my = my + weight * (getattr(w, part + "_x") - x)
    return Vector(-mx, -my, -mz)


def joint_vectors(w: Loads, setups: Setups, p: Postures, push: FloatArray | float) -> JointVectors:
    """Moment vectors at hip, knee and ankle from the ground up (N m), both legs together."""
    g = ground_of(w, setups, p, push)
    ankle_x = np.zeros_like(p.z)
    return JointVectors(
        hip=_held(g, w, p, (p.hip_x, p.hip_y, p.hip_z), ("foot", "shank", "thigh")),
        knee=_held(g, w, p, (p.knee_x, p.knee_y, p.knee_z), ("foot", "shank")),
        ankle=_held(g, w, p, (ankle_x, p.ankle_y, p.ankle_z), ("foot",)),
    )


def knee_axis(setups: Setups, p: Postures) -> Vector:
    """Unit axis of knee extension: the normal of the leg's plane; across the foot's line when the leg is straight."""
    ux, uy, uz = p.hip_x - p.knee_x, p.hip_y - p.knee_y, p.hip_z - p.knee_z
    vx, vy, vz = -p.knee_x, p.ankle_y - p.knee_y, p.ankle_z - p.knee_z
    nx, ny, nz = uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx
    norm = np.sqrt(nx * nx + ny * ny + nz * nz)
    bent = norm > 1e-6
    safe = np.where(bent, norm, 1.0)
    sin, cos = np.sin(setups.turnout), np.cos(setups.turnout)
    return Vector(np.where(bent, nx / safe, sin), np.where(bent, ny / safe, -cos), np.where(bent, nz / safe, 0.0))


class Line(NamedTuple):
    """A moment as a * load + b: a in N m per kg in the hands, b in N m from the body's own weight."""

    a: FloatArray
    b: FloatArray

    def at(self, load_kg: FloatArray | float) -> FloatArray:
        """The moment (N m) with `load_kg` in the hands."""
        return np.asarray(self.a * load_kg + self.b)


@dataclass(frozen=True, slots=True)
class Moments:
    """Moments of both legs together over (athletes, styles, heights), extensor, plantar flexor, adductor positive.

    hip: about the side-to-side axis. adductor: about the forward axis, what the push leaves. knee: net, about the
    knee's own axis. trunk: at the spinal joint. l4l5: at L4/L5. ankle: about the foot's own axis.
    """

    hip: Line
    adductor: Line
    knee: Line
    trunk: Line
    l4l5: Line
    ankle: Line

    @property
    def knee_demand(self) -> Line:
        """What the knee extensors must give: net moment plus what the hamstrings' hip work takes at the knee."""
        share = c.HAMSTRING_SHARE * c.HAMSTRING_KNEE_LEVER
        return Line(self.knee.a + share * self.hip.a, self.knee.b + share * self.hip.b)


def _of_loads(w: Loads, body: Body, setups: Setups, p: Postures, push: FloatArray | float) -> dict[str, FloatArray]:
    joints = joint_vectors(w, setups, p, push)
    axis, knee = knee_axis(setups, p), joints.knee
    l4l5_x = p.hip_x + c.L4L5 * body.trunk * np.cos(p.lower_trunk)
    return {
        "hip": hip_sagittal(w, p),
        "adductor": -joints.hip.x,
        "knee": knee.x * axis.x + knee.y * axis.y + knee.z * axis.z,
        "trunk": _above(w, p, p.mid_x, ("chest",)),
        "l4l5": _above(w, p, l4l5_x, ("lumbar", "chest")),
        "ankle": joints.ankle.y * np.cos(setups.turnout) - joints.ankle.x * np.sin(setups.turnout),
    }


def moments_of(body: Body, setups: Setups, p: Postures, push: FloatArray | float = c.DEFAULT_PUSH) -> Moments:
    """All moments as lines in the load; `push` a number 0-1 or an array that broadcasts in front of the postures.

    `body` and `setups` as in the rig of the postures (trailing axes already there).
    """
    own = loads_of(body, setups, p, 0.0)
    per_kg = _of_loads(one_kg_alone(own), body, setups, p, push)
    by_body = _of_loads(own, body, setups, p, push)
    return Moments(**{key: Line(per_kg[key], by_body[key]) for key in per_kg})
