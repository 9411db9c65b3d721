"""The links of one posture: where the bar and the shoulder are at a height, and legs that touch the bar or join a hip.

Frame: x forward (toes), y to the side, z up (m); origin on the floor below the ankle joints; one side stands for both.
Every function takes arrays that broadcast (athletes, styles, heights); what cannot be is NaN.

| Symbol | Unit | Meaning |
|---|---|---|
| z, z0, zk, z1 | m | bar height; at the floor start (0.225); level with the top of the shank; at lockout |
| u | 1 | (z - z0) / (z1 - z0), not clipped |
| S(t) | 1 | t^2 (3 - 2 t), t clipped to 0..1 |
| x0, d | m | bar's x at lift-off, ahead of the ankle; drift back by the knee |
| a0, alpha | rad | arm ahead of the vertical at lift-off; further ahead as the bar passes the knee |
| r | m | reach of the arm in the side view, shoulder girdle counted |
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from analysis.core.body import constants as c
from analysis.core.body.body import Body
from analysis.core.pull.setups import Setups

FloatArray = npt.NDArray[np.float64]
DEPTH_STEPS = 3  # fixed-point steps of the leg's depth where the bar touches it


@dataclass(frozen=True, slots=True)
class Rig:
    """What does not change with height: the feet, the bar's plane, clearances, and the pose at lockout (m, rad)."""

    body: Body
    setups: Setups
    ankle_y: FloatArray
    ankle_z: FloatArray
    hip_y: FloatArray
    mid_foot_x: FloatArray
    bar_x: FloatArray  # at lift-off
    bar_top_x: FloatArray  # from the knee to lockout
    hand_offset: FloatArray  # to the side, from the shoulder joint to the hand
    shin_clear: FloatArray  # leg axis to bar centre
    thigh_clear: FloatArray
    leg_rise: FloatArray  # of the straight leg, in the sagittal projection
    lockout_z: FloatArray
    lockout_lean: FloatArray  # of the straight leg, positive forward
    knee_z: FloatArray  # bar height at which it is level with the top of the shank


def rig(body: Body, setups: Setups) -> Rig:
    """Feet, clearances and lockout; legs straight, shoulder above hip, the arm at the angle that joins them."""
    ankle_y = setups.stance / 2.0 + 0.0 * body.mass
    ankle_z = body.ankle + setups.sole
    hip_y = body.hip_spacing / 2.0
    mid_foot_x = (c.MID_FOOT - c.HEEL_BEHIND_ANKLE) * body.foot * np.cos(setups.turnout)
    bar_x = mid_foot_x + setups.bar_ahead
    bar_top_x = bar_x - setups.drift
    hand_offset = np.abs(setups.hand_spacing - body.shoulder_spacing) / 2.0
    thigh_clear = c.THIGH_HALF_DEPTH_M + setups.bar_radius
    with np.errstate(invalid="ignore"):
        leg_rise = np.sqrt((body.shank + body.thigh) ** 2 - (ankle_y - hip_y) ** 2)
        reach = np.sqrt((body.arm + c.GIRDLE_AT_LOCKOUT_M) ** 2 - hand_offset**2)
        knee_z = ankle_z + np.sqrt(body.shank**2 + thigh_clear**2 - bar_top_x**2)
        lean = np.zeros_like(leg_rise)
        for _ in range(6):
            hip_x = leg_rise * np.sin(lean)
            shoulder_z = ankle_z + leg_rise * np.cos(lean) + body.trunk
            lockout_z = shoulder_z - np.sqrt(reach**2 - (bar_top_x - hip_x) ** 2)
            lean = np.minimum(_touching_lean(bar_top_x, lockout_z - ankle_z, thigh_clear), 0.0)
    shin_clear = c.SHIN_HALF_DEPTH_M + setups.bar_radius + setups.shin_gap
    return Rig(
        body, setups, ankle_y, ankle_z, hip_y, mid_foot_x, bar_x, bar_top_x, hand_offset, shin_clear, thigh_clear,
        leg_rise, lockout_z, lean, knee_z,
    )  # fmt: skip


def _touching_lean(bar_x: FloatArray, above_ankle: FloatArray, clear: FloatArray) -> FloatArray:
    """Lean of a line from the ankle that passes a bar at distance `clear` behind it, positive forward."""
    distance = np.hypot(bar_x, above_ankle)
    return np.asarray(np.arctan2(bar_x, above_ankle) - np.arcsin(clear / distance))


@dataclass(frozen=True, slots=True)
class Upper:
    """Bar, shoulder and spine with the bar at a height; u is 0 at the floor start of 0.225 m, 1 at lockout."""

    u: FloatArray
    bar_x: FloatArray
    bend: FloatArray
    chord: FloatArray
    tilt: FloatArray  # of the lower trunk link above the chord
    reach: FloatArray  # shoulder to bar in the sagittal projection
    shoulder_x: FloatArray
    shoulder_z: FloatArray


def spinal_bend(setups: Setups, u: FloatArray) -> FloatArray:
    """Spinal flexion (rad) at u: from that at the floor to that of the pull, then straight by lockout.

    Both changes are smoothsteps; a back that does not round on the way keeps what it was set up with.
    """
    grown = smoothstep(u / c.ROUNDED_BY_U)
    pulled = setups.flexion_at_start + (setups.spinal_flexion - setups.flexion_at_start) * grown
    return np.asarray(pulled * (1.0 - smoothstep((u - c.UNBEND_FROM_U) / (1.0 - c.UNBEND_FROM_U))))


def smoothstep(share: FloatArray) -> FloatArray:
    """S(t) = t^2 (3 - 2 t) with t clipped to 0..1."""
    t = np.minimum(np.maximum(share, 0.0), 1.0)
    return np.asarray(t * t * (3.0 - 2.0 * t))


def girdle_reach(setups: Setups, bend: FloatArray, share: FloatArray) -> FloatArray:
    """Reach (m) the shoulder girdle adds to the arm: falls from floor to lockout, grows with rounding."""
    plain = setups.girdle + (c.GIRDLE_AT_LOCKOUT_M - setups.girdle) * share
    rounding = np.maximum(bend - c.FLAT_SPINE_RAD, 0.0) / (c.ROUNDED_SPINE_RAD - c.FLAT_SPINE_RAD)
    return np.asarray(plain + c.GIRDLE_WHEN_ROUNDED_M * rounding)


def way_to_knee(r: Rig, z: FloatArray) -> FloatArray:
    """Share of the way from the floor start to the top of the shank, 0 at the floor, not above 1."""
    return np.asarray(np.minimum(np.maximum((z - c.FLOOR_START_M) / (r.knee_z - c.FLOOR_START_M), 0.0), 1.0))


def upper_body(r: Rig, z: FloatArray) -> Upper:
    """Where the bar and the shoulder are and how long the trunk's chord is with the bar at height `z` (m).

    x_b = x0 - d S(to the knee); x_s = x0 + r sin(a0) (1 - u) + (x_end - x0) u^2 + r sin(alpha) B(u), B rising by S
    from the floor to the knee and falling by S to lockout; x_end is the hip's x at lockout. The shoulder does not
    follow the drifting bar: the lats draw the bar in (common practice).
    """
    u = (z - c.FLOOR_START_M) / (r.lockout_z - c.FLOOR_START_M)
    share = np.minimum(np.maximum(u, 0.0), 1.0)
    bend = spinal_bend(r.setups, u)
    to_knee = smoothstep(way_to_knee(r, z))
    with np.errstate(invalid="ignore", divide="ignore"):
        to_lockout = smoothstep((r.lockout_z - z) / (r.lockout_z - r.knee_z))
        reach = np.sqrt((r.body.arm + girdle_reach(r.setups, bend, share)) ** 2 - r.hand_offset**2)
        bar_x = r.bar_x + (r.bar_top_x - r.bar_x) * to_knee
        end = r.leg_rise * np.sin(r.lockout_lean) - r.bar_x
        ahead = reach * (
            np.sin(r.setups.arm_ahead) * (1.0 - share) + np.sin(r.setups.arms_at_knee) * to_knee * to_lockout
        )
        shoulder_x = r.bar_x + ahead + end * share**2
        shoulder_z = z + np.sqrt(reach**2 - (shoulder_x - bar_x) ** 2)
    low, high = c.SPINAL_JOINT, 1.0 - c.SPINAL_JOINT
    cos = np.cos(bend)
    chord = r.body.trunk * np.sqrt(low**2 + high**2 + 2.0 * low * high * cos)
    tilt = np.arctan2(high * np.sin(bend), low + high * cos)
    return Upper(u, bar_x, bend, chord, tilt, reach, shoulder_x, shoulder_z)


@dataclass(frozen=True, slots=True)
class Legs:
    """Knee (x, y, z) and hip (x, z) of one side (m) and the distance hip to ankle, which sets the knee angle."""

    knee_x: FloatArray
    knee_y: FloatArray
    knee_z: FloatArray
    hip_x: FloatArray
    hip_z: FloatArray
    span: FloatArray


def rear_meeting(
    px: FloatArray | np.float64,
    pz: FloatArray,
    p: FloatArray,
    qx: FloatArray,
    qz: FloatArray,
    q: FloatArray,
    touch: bool = False,
) -> tuple[FloatArray, FloatArray]:
    """The meeting of a circle (centre p, below) and a circle (centre q, above) that lies behind their line.

    NaN where they do not meet; a miss by rounding counts as touching, and with `touch` every miss.
    """
    dx, dz = qx - px, qz - pz
    square = dx * dx + dz * dz
    along = (square + p * p - q * q) / (2.0 * square)
    off = p * p / square - along * along
    side = np.sqrt(np.maximum(off, 0.0) if touch else np.where((off < 0.0) & (off > -1e-9), 0.0, off))
    return px + along * dx - side * dz, pz + along * dz + side * dx


def legs_on_shin(r: Rig, upper: Upper, z: FloatArray) -> Legs:
    """Bar against the shin: the shank's lean has a closed form, the knee stands over the foot's line.

    The leg's depth in front of its axis grows by S from the shin's to the knee's over the upper part of the shank.
    """
    body = r.body
    above = z - r.ankle_z
    square = upper.bar_x**2 + above**2
    clear = r.shin_clear + 0.0 * z
    with np.errstate(invalid="ignore"):
        for _ in range(DEPTH_STEPS):  # how deep the leg is depends a little on where the bar touches it
            place = np.sqrt(square - clear**2) / body.shank
            grown = smoothstep((place - c.SHIN_WIDENS_FROM) / (1.0 - c.SHIN_WIDENS_FROM))
            clear = r.shin_clear + (r.thigh_clear - r.shin_clear) * grown
        lean_projected = np.arctan2(upper.bar_x, above) - np.arcsin(clear / np.sqrt(square))
        lean = np.arctan(np.tan(lean_projected) / np.cos(r.setups.turnout))
        forward = body.shank * np.sin(lean)
        knee_x = forward * np.cos(r.setups.turnout)
        knee_y = r.ankle_y + forward * np.sin(r.setups.turnout)
        knee_z = r.ankle_z + body.shank * np.cos(lean)
        thigh = np.sqrt(body.thigh**2 - (knee_y - r.hip_y) ** 2)
    hip_x, hip_z = rear_meeting(knee_x, knee_z, thigh, upper.shoulder_x, upper.shoulder_z, upper.chord)
    span = np.sqrt(hip_x**2 + (r.ankle_y - r.hip_y) ** 2 + (hip_z - r.ankle_z) ** 2)
    return Legs(knee_x, knee_y, knee_z, hip_x, hip_z, span)


def knee_of_span(body: Body, span: FloatArray) -> FloatArray:
    """Knee flexion (rad, 0 straight) with the hip at distance `span` (m) from the ankle."""
    shank, thigh = body.shank, body.thigh
    cos = (span**2 - shank**2 - thigh**2) / (2.0 * shank * thigh)
    return np.asarray(np.arccos(np.minimum(np.maximum(cos, -1.0), 1.0)))


def span_of_knee(body: Body, knee: FloatArray) -> FloatArray:
    """Distance hip to ankle (m) at a knee flexion (rad, 0 straight)."""
    return np.asarray(np.sqrt(body.shank**2 + body.thigh**2 + 2.0 * body.shank * body.thigh * np.cos(knee)))


def legs_at_span(r: Rig, upper: Upper, span: FloatArray, touch: bool = False) -> Legs:
    """Legs with the hip at distance `span` (m) from the ankle: the hip behind, the knee nearest the foot's plane.

    The knee lies where the sphere about the ankle (shank) and about the hip (thigh) meet; of that circle the point
    nearest the vertical plane of the foot, the forward one of two. With `touch` a leg and trunk that do not reach each
    other are put in one line instead of NaN (for root finding).
    """
    body = r.body
    across = r.hip_y - r.ankle_y
    rise = np.sqrt(span**2 - across**2)
    hip_x, hip_z = rear_meeting(
        np.float64(0.0), r.ankle_z, rise, upper.shoulder_x, upper.shoulder_z, upper.chord, touch
    )
    # e: unit vector ankle to hip; n: normal of the foot's plane; the knee is A + q e + g n + h (n x e)
    ex, ey, ez = hip_x / span, across / span, (hip_z - r.ankle_z) / span
    along = (body.shank**2 - body.thigh**2 + span**2) / (2.0 * span)
    square = np.maximum(body.shank**2 - along**2, 0.0)
    radius = np.sqrt(square)
    sin, cos = np.sin(r.setups.turnout), np.cos(r.setups.turnout)
    lean = cos * ey - sin * ex  # n . e
    scale = np.sqrt(1.0 - lean**2)
    out = np.minimum(np.maximum(-lean * along / scale, -radius), radius)
    g, h = out / scale, np.sqrt(np.maximum(square - out**2, 0.0)) / scale
    q = along - g * lean
    return Legs(
        q * ex - g * sin + h * cos * ez,
        r.ankle_y + q * ey + g * cos + h * sin * ez,
        r.ankle_z + q * ez - h * (sin * ey + cos * ex),
        hip_x,
        hip_z,
        span,
    )


def thigh_clearance(r: Rig, upper: Upper, legs: Legs, z: FloatArray) -> FloatArray:
    """Distance (m) of the bar in front of the thigh's axis (sagittal projection) less what it must be; >= 0 clears.

    Beside the knee's end the distance to the knee counts.
    """
    tx, tz = legs.hip_x - legs.knee_x, legs.hip_z - legs.knee_z
    bx, bz = upper.bar_x - legs.knee_x, z - legs.knee_z
    length = np.sqrt(tx * tx + tz * tz)
    ahead = (bx * tz - bz * tx) / length
    distance = np.where(bx * tx + bz * tz >= 0.0, ahead, np.hypot(bx, bz))
    return np.asarray(distance - r.thigh_clear)


def hip_angle(upper: Upper, legs: Legs) -> FloatArray:
    """H (rad, 0 straight): the hip-to-shoulder line against the thigh in the side view, as a photograph shows it."""
    cx, cz = upper.shoulder_x - legs.hip_x, upper.shoulder_z - legs.hip_z
    tx, tz = legs.hip_x - legs.knee_x, legs.hip_z - legs.knee_z
    return np.asarray(np.arctan2(cx * tz - cz * tx, cx * tx + cz * tz))
