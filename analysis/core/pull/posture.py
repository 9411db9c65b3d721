"""The posture that holds a bar at a height: circles that meet and a leg that just clears the bar.

Frame: x forward (toes), y to the side, z up; origin on the floor below the ankle joints; one side stands for both.
Every function takes arrays that broadcast (athletes, styles, heights); what cannot be is NaN.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from analysis.core.body import constants as c
from analysis.core.body.body import Body
from analysis.core.pull.setups import Setups

FloatArray = npt.NDArray[np.float64]
ROOT_STEPS = 10  # of the bracketed secant; leaves less than a nanometre (the tests compare with scipy)


@dataclass(frozen=True, slots=True)
class Rig:
    """What does not change with height: the feet, the bar's plane, clearances, and the pose at lockout (m, rad)."""

    body: Body
    setups: Setups
    ankle_y: FloatArray
    ankle_z: FloatArray
    hip_y: FloatArray
    bar_x: FloatArray
    hand_offset: FloatArray  # to the side, from the shoulder joint to the hand
    shin_clear: FloatArray  # leg axis to bar centre
    thigh_clear: FloatArray
    leg_rise: FloatArray  # of the straight leg, in the sagittal projection
    lockout_z: FloatArray
    lockout_lean: FloatArray  # of the straight leg, positive forward
    lockout_arm: FloatArray  # shoulder ahead of the bar positive
    knee_z: FloatArray  # bar height at which it is level with the top of the shank


def rig(body: Body, setups: Setups) -> Rig:
    """Feet, clearances and lockout; legs straight, shoulder above hip, the arm at the angle that joins them."""
    ankle_y = setups.stance / 2.0 + 0.0 * body.mass
    ankle_z = body.ankle + setups.sole
    hip_y = body.hip_spacing / 2.0
    bar_x = (c.MID_FOOT - c.HEEL_BEHIND_ANKLE) * body.foot * np.cos(setups.turnout)
    hand_offset = np.abs(setups.hand_spacing - body.shoulder_spacing) / 2.0
    thigh_clear = c.THIGH_HALF_DEPTH_M + setups.bar_radius
    with np.errstate(invalid="ignore"):
        leg_rise = np.sqrt((body.shank + body.thigh) ** 2 - (ankle_y - hip_y) ** 2)
        reach = np.sqrt((body.arm + c.GIRDLE_AT_LOCKOUT_M) ** 2 - hand_offset**2)
        knee_z = ankle_z + np.sqrt(body.shank**2 + thigh_clear**2 - bar_x**2)
        lean = np.zeros_like(leg_rise)
        for _ in range(6):
            hip_x = leg_rise * np.sin(lean)
            shoulder_z = ankle_z + leg_rise * np.cos(lean) + body.trunk
            lockout_z = shoulder_z - np.sqrt(reach**2 - (bar_x - hip_x) ** 2)
            lean = np.minimum(_touching_lean(bar_x, lockout_z - ankle_z, thigh_clear), 0.0)
        arm = np.arcsin((leg_rise * np.sin(lean) - bar_x) / reach)
    return Rig(
        body, setups, ankle_y, ankle_z, hip_y, bar_x, hand_offset, c.SHIN_HALF_DEPTH_M + setups.bar_radius,
        thigh_clear, leg_rise, lockout_z, lean, arm, knee_z,
    )  # fmt: skip


def _touching_lean(bar_x: FloatArray, above_ankle: FloatArray, clear: FloatArray) -> FloatArray:
    """Lean of a line from the ankle that passes a bar at distance `clear` behind it, positive forward."""
    distance = np.hypot(bar_x, above_ankle)
    return np.asarray(np.arctan2(bar_x, above_ankle) - np.arcsin(clear / distance))


@dataclass(frozen=True, slots=True)
class Upper:
    """Shoulder and spine when the bar is at a height; u is 0 at the floor start of 0.225 m, 1 at lockout."""

    u: FloatArray
    bend: FloatArray
    chord: FloatArray
    tilt: FloatArray  # of the lower trunk link above the chord
    arm_angle: FloatArray
    reach: FloatArray  # shoulder to bar in the sagittal projection
    shoulder_x: FloatArray
    shoulder_z: FloatArray


def spinal_bend(setups: Setups, u: FloatArray) -> FloatArray:
    """Spinal flexion (rad) at u: from that at the floor to that of the pull, from half-way straight until lockout.

    Both changes are smoothsteps; a back that does not round on the way keeps what it was set up with.
    """
    grown = _smoothstep(u / c.ROUNDED_BY_U)
    held = setups.flexion_at_start + (setups.spinal_flexion - setups.flexion_at_start) * grown
    return np.asarray(held * (1.0 - _smoothstep((u - c.UNBEND_FROM_U) / (1.0 - c.UNBEND_FROM_U))))


def _smoothstep(share: FloatArray) -> FloatArray:
    t = np.clip(share, 0.0, 1.0)
    return np.asarray(t * t * (3.0 - 2.0 * t))


def girdle_reach(bend: FloatArray, u: FloatArray) -> FloatArray:
    """Reach (m) the shoulder girdle adds to the arm: falls from floor to lockout, grows with rounding."""
    share = np.clip(u, 0.0, 1.0)
    plain = c.GIRDLE_AT_FLOOR_M + (c.GIRDLE_AT_LOCKOUT_M - c.GIRDLE_AT_FLOOR_M) * share
    rounding = np.maximum(bend - c.FLAT_SPINE_RAD, 0.0) / (c.ROUNDED_SPINE_RAD - c.FLAT_SPINE_RAD)
    return np.asarray(plain + c.GIRDLE_WHEN_ROUNDED_M * rounding)


def upper_body(r: Rig, z: FloatArray) -> Upper:
    """Where the shoulder hangs and how long the trunk's chord is with the bar at height `z` (m)."""
    u = (z - c.FLOOR_START_M) / (r.lockout_z - c.FLOOR_START_M)
    share = np.clip(u, 0.0, 1.0)
    bend = spinal_bend(r.setups, u)
    # the arm goes from ahead of the bar to whatever angle lockout asks, most of it in the upper half
    arm_angle = c.ARM_AHEAD_AT_FLOOR_RAD * (1.0 - share) + r.lockout_arm * share**2
    with np.errstate(invalid="ignore"):
        reach = np.sqrt((r.body.arm + girdle_reach(bend, u)) ** 2 - r.hand_offset**2)
    low, high = c.SPINAL_JOINT, 1.0 - c.SPINAL_JOINT
    chord = r.body.trunk * np.sqrt(low**2 + high**2 + 2.0 * low * high * np.cos(bend))
    tilt = np.arctan2(high * np.sin(bend), low + high * np.cos(bend))
    shoulder_x, shoulder_z = r.bar_x + reach * np.sin(arm_angle), z + reach * np.cos(arm_angle)
    return Upper(u, bend, chord, tilt, arm_angle, reach, shoulder_x, shoulder_z)


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
    px: FloatArray | np.float64, pz: FloatArray, p: FloatArray, qx: FloatArray, qz: FloatArray, q: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """The meeting of a circle (centre p, below) and a circle (centre q, above) that lies behind their line.

    NaN where they do not meet; a miss by rounding counts as touching.
    """
    dx, dz = qx - px, qz - pz
    square = dx * dx + dz * dz
    along = (square + p * p - q * q) / (2.0 * square)
    off = p * p / square - along * along
    side = np.sqrt(np.where((off < 0.0) & (off > -1e-9), 0.0, off))
    return px + along * dx - side * dz, pz + along * dz + side * dx


def legs_on_shin(r: Rig, upper: Upper, z: FloatArray) -> Legs:
    """Bar against the shin: the shank's lean has a closed form, the knee stands over the foot's line."""
    body = r.body
    above = z - r.ankle_z
    square = r.bar_x**2 + above**2
    clear = r.shin_clear + 0.0 * z
    with np.errstate(invalid="ignore"):
        for _ in range(5):  # how deep the leg is depends a little on where the bar touches it
            place = np.sqrt(square - clear**2) / body.shank
            grown = np.clip((place - c.SHIN_WIDENS_FROM) / (1.0 - c.SHIN_WIDENS_FROM), 0.0, 1.0)
            clear = r.shin_clear + (r.thigh_clear - r.shin_clear) * grown
        lean_projected = np.arctan2(r.bar_x, above) - np.arcsin(clear / np.sqrt(square))
        lean = np.arctan(np.tan(lean_projected) / np.cos(r.setups.turnout))
        forward = body.shank * np.sin(lean)
        knee_x = forward * np.cos(r.setups.turnout)
        knee_y = r.ankle_y + forward * np.sin(r.setups.turnout)
        knee_z = r.ankle_z + body.shank * np.cos(lean)
        thigh = np.sqrt(body.thigh**2 - (knee_y - r.hip_y) ** 2)
    hip_x, hip_z = rear_meeting(knee_x, knee_z, thigh, upper.shoulder_x, upper.shoulder_z, upper.chord)
    span = np.sqrt(hip_x**2 + (r.ankle_y - r.hip_y) ** 2 + (hip_z - r.ankle_z) ** 2)
    return Legs(knee_x, knee_y, knee_z, hip_x, hip_z, span)


def legs_at_span(r: Rig, upper: Upper, span: FloatArray) -> Legs:
    """Legs with the hip at distance `span` (m) from the ankle: the hip behind, the knee nearest the foot's plane.

    The knee lies where the sphere about the ankle (shank) and about the hip (thigh) meet; of that circle the point
    nearest the vertical plane of the foot, the forward one of two.
    """
    body = r.body
    across = r.hip_y - r.ankle_y
    rise = np.sqrt(span**2 - across**2)
    hip_x, hip_z = rear_meeting(np.float64(0.0), r.ankle_z, rise, upper.shoulder_x, upper.shoulder_z, upper.chord)
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


def thigh_clearance(r: Rig, legs: Legs, z: FloatArray) -> FloatArray:
    """Distance (m) of the bar in front of the thigh's axis (sagittal projection) less what it must be; >= 0 clears.

    Beside the knee's end the distance to the knee counts.
    """
    tx, tz = legs.hip_x - legs.knee_x, legs.hip_z - legs.knee_z
    bx, bz = r.bar_x - legs.knee_x, z - legs.knee_z
    length = np.sqrt(tx * tx + tz * tz)
    ahead = (bx * tz - bz * tx) / length
    distance = np.where(bx * tx + bz * tz >= 0.0, ahead, np.hypot(bx, bz))
    return np.asarray(distance - r.thigh_clear)


def hip_flexion(upper: Upper, legs: Legs) -> FloatArray:
    """Angle (rad) between the lower trunk link and the thigh's sagittal projection, 0 straight."""
    chord = np.arctan2(upper.shoulder_z - legs.hip_z, upper.shoulder_x - legs.hip_x)
    thigh = np.arctan2(legs.hip_z - legs.knee_z, legs.hip_x - legs.knee_x)
    thigh = np.where(thigh < -np.pi / 2.0, thigh + 2.0 * np.pi, thigh)  # a hip below the knee
    return np.asarray(thigh - chord - upper.tilt)


def _hip_behind(upper: Upper, legs: Legs, cos: FloatArray, sin: FloatArray) -> FloatArray:
    """Positive where hip flexion exceeds a floor: chord x thigh x sin(flexion - floor), in m^2.

    `cos` and `sin` are of the floor plus the tilt of the lower trunk above the chord.
    """
    cx, cz = upper.shoulder_x - legs.hip_x, upper.shoulder_z - legs.hip_z
    tx, tz = legs.hip_x - legs.knee_x, legs.hip_z - legs.knee_z
    return np.asarray((cx * cos - cz * sin) * tz - (cx * sin + cz * cos) * tx)


def first_crossing(slack: Callable[[FloatArray], FloatArray], low: FloatArray, high: FloatArray) -> FloatArray:
    """Where `slack` rises through 0 between `low` and `high`, or `low` where it is not negative there.

    Bracketed secant (Illinois: an end kept twice running counts half), the first step and every fifth a bisection.
    """
    at_low, at_high = slack(low), slack(high)
    high = np.where(at_low >= 0.0, low, high)
    at_high = np.maximum(at_high, 0.0)
    nearest, miss = high, at_high
    moved_high = moved_low = np.zeros(low.shape, dtype=np.bool_)
    for step in range(ROOT_STEPS):
        share = at_low / (at_low - at_high)
        share = np.where(np.isfinite(share) & (step % 5 != 0), share, 0.5)
        middle = low + share * (high - low)
        value = slack(middle)
        fits = value >= 0.0
        at_low = np.where(fits, np.where(moved_high, 0.5 * at_low, at_low), value)
        at_high = np.where(fits, value, np.where(moved_low, 0.5 * at_high, at_high))
        high = np.where(fits, middle, high)
        low = np.where(fits, low, middle)
        moved_high, moved_low = fits, ~fits
        closer = np.abs(value) < miss
        nearest, miss = np.where(closer, middle, nearest), np.where(closer, np.abs(value), miss)
    return nearest


def span_past_knee(r: Rig, upper: Upper, z: FloatArray, knee: Legs, knee_hip_flexion: FloatArray) -> FloatArray:
    """Bar past the knee: the least hip-to-ankle distance (m) at which the thigh clears the bar.

    Never less than at the knee (no re-bending). The hip extends no faster than evenly in bar height from the knee
    to lockout, so that hips and knees finish together: without this a wide stance would throw the hips through
    under the bar and bend them again (a calibration; it does not act in a conventional pull).
    """
    across = (r.ankle_y - r.hip_y) ** 2
    with np.errstate(invalid="ignore", divide="ignore"):
        left = np.clip((r.lockout_z - z) / (r.lockout_z - r.knee_z), 0.0, 1.0)
        at_lockout = -r.lockout_lean
        floor = at_lockout + np.maximum(c.HIP_LAGS * knee_hip_flexion - at_lockout, 0.0) * left
        reach = np.hypot(upper.shoulder_x, upper.shoulder_z - r.ankle_z) - upper.chord
        high = r.body.shank + r.body.thigh + 0.0 * z
        low = np.minimum(np.maximum(knee.span, np.sqrt(np.maximum(reach, 0.0) ** 2 + across)), high)
        floor = np.minimum(floor, hip_flexion(upper, legs_at_span(r, upper, high)) - 1e-9)

        cos, sin = np.cos(floor + upper.tilt), np.sin(floor + upper.tilt)

        def slack(span: FloatArray) -> FloatArray:
            legs = legs_at_span(r, upper, span)
            return np.minimum(thigh_clearance(r, legs, z), _hip_behind(upper, legs, cos, sin))

        # hips that are through before the bar has passed the knee (or never get there) are not a pull
        still_bent = knee_hip_flexion > at_lockout
        return np.asarray(np.where(still_bent, first_crossing(slack, low, high), np.nan))
