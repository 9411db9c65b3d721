"""The path of the legs from floor to lockout: shin contact with knees that lead, then one curve of knee over hip.

Frame and further symbols as in posture.py. Every function takes arrays that broadcast (athletes, styles, heights).

| Symbol | Unit | Meaning |
|---|---|---|
| q | rad | knee flexion, 0 straight |
| H | rad | hip-to-shoulder line against the thigh in the side view, 0 straight; H1 at lockout |
| L | rad | lead of the knees: how much straighter they are at zk than shin contact asks |
| qk, Hk | rad | knee and hip as the bar passes the top of the shank |
| p | 1 | place on the curve: 1 at the knee, 0 at lockout |
| k | 1 | slope of q over H just below the knee, times (Hk - H1) / qk |
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields

import numpy as np
import numpy.typing as npt

from analysis.core.body import constants as c
from analysis.core.pull.posture import (
    Legs,
    Rig,
    Upper,
    hip_angle,
    knee_of_span,
    legs_at_span,
    legs_on_shin,
    span_of_knee,
    upper_body,
    way_to_knee,
)

FloatArray = npt.NDArray[np.float64]
ROOT_STEPS = 9  # of the bracketed secant
BELOW_M = 1e-4  # the slope at the knee is taken over this height


def legs_to_knee(r: Rig, upper: Upper, z: FloatArray) -> Legs:
    """Legs with the bar not above the knee: q = q of shin contact - L ((z - z0) / (zk - z0))^2.

    The square leaves lift-off untouched and gives the knee a speed when the bar passes it.
    """
    contact = legs_on_shin(r, upper, z)
    lead = r.setups.lead * way_to_knee(r, z) ** 2
    knee = np.maximum(knee_of_span(r.body, contact.span) - lead, 0.0)
    return legs_at_span(r, upper, span_of_knee(r.body, knee))


@dataclass(frozen=True, slots=True)
class Curve:
    """The curve of knee over hip from the knee to lockout: q = qk f(p), H = H1 + p (Hk - H1)."""

    knee: FloatArray  # qk
    hip_at_lockout: FloatArray  # H1
    hip_range: FloatArray  # Hk - H1
    slope: FloatArray  # k

    def bend(self, p: FloatArray) -> FloatArray:
        """f(p) = p + (k - 1)(p^3 - p^2): f(0) = 0, f(1) = 1, f'(1) = k, rising for k < 4."""
        return np.asarray(p * (1.0 + (self.slope - 1.0) * p * (p - 1.0)))


def curve_of(r: Rig) -> Curve:
    """The curve that goes on from the shin piece without a kink and ends with straight legs."""
    z = r.knee_z + np.array([-BELOW_M, 0.0])
    upper = upper_body(r, z)
    legs = legs_to_knee(r, upper, z)
    knee, hip = knee_of_span(r.body, legs.span), hip_angle(upper, legs)
    at_lockout = -r.lockout_lean
    hip_range = hip[..., 1:] - at_lockout
    ratio = (knee[..., 1:] - knee[..., :1]) / (hip[..., 1:] - hip[..., :1])
    slope = np.clip(ratio * hip_range / knee[..., 1:], c.LEAST_SLOPE, c.GREATEST_SLOPE)
    return Curve(knee[..., 1:], at_lockout, hip_range, slope)


def legs_past_knee(r: Rig, upper: Upper, curve: Curve) -> Legs:
    """Legs with the bar above the knee: the place p on the curve whose hip angle the posture has.

    The circles of leg and trunk meet at an angle phi, cos phi = (D^2 - leg^2 - chord^2) / (2 leg chord), D from ankle
    to shoulder. The root of cos phi - cos(H - thigh against leg) is sought over p^2, in which it is nearly straight.
    """
    body = r.body
    reach_square = upper.shoulder_x**2 + (upper.shoulder_z - r.ankle_z) ** 2
    across = (r.ankle_y - r.hip_y) ** 2

    def legs_at(p: FloatArray, touch: bool) -> Legs:
        return legs_at_span(r, upper, span_of_knee(body, curve.knee * curve.bend(p)), touch)

    def slack(square: FloatArray) -> FloatArray:
        p = np.sqrt(square)
        legs = legs_at(p, touch=True)
        leg_square = legs.span**2 - across
        tx, tz = legs.hip_x - legs.knee_x, legs.hip_z - legs.knee_z
        hx, hz = legs.hip_x, legs.hip_z - r.ankle_z
        against_leg = np.arctan2(hx * tz - hz * tx, hx * tx + hz * tz)
        wanted = curve.hip_at_lockout + p * curve.hip_range - against_leg
        meeting = (reach_square - leg_square - upper.chord**2) / (2.0 * np.sqrt(leg_square) * upper.chord)
        return np.asarray(meeting - np.cos(wanted))

    high = _meeting_place(r, upper, curve, np.sqrt(reach_square), across)
    found = first_crossing(slack, np.zeros_like(high), high**2)
    found = np.where(curve.hip_range > 0.0, found, np.nan)  # hips through before the bar has passed the knee
    return legs_at(np.sqrt(found), touch=False)


def _meeting_place(r: Rig, upper: Upper, curve: Curve, reach: FloatArray, across: FloatArray) -> FloatArray:
    """The greatest p at which leg and trunk still meet (about), not above 1: f(p) = q at which they are in one line."""
    touching = np.sqrt(np.maximum(reach - upper.chord, 0.0) ** 2 + across)
    wanted = np.minimum(knee_of_span(r.body, touching) / curve.knee, 1.0)
    p, bent = wanted, curve.slope - 1.0
    for _ in range(4):
        slope = 1.0 + bent * p * (3.0 * p - 2.0)
        p = np.minimum(np.maximum(p - (curve.bend(p) - wanted) / slope, 0.0), 1.0)
    return np.asarray(p)


def first_crossing(slack: Callable[[FloatArray], FloatArray], low: FloatArray, high: FloatArray) -> FloatArray:
    """Where `slack` rises through 0 between `low` and `high`; `low` where it is not negative there.

    Bracketed secant (Illinois: an end kept twice running counts half) of ROOT_STEPS steps; the best place seen.
    """
    at_low, at_high = slack(low), slack(high)
    high = np.where(at_low >= 0.0, low, high)
    at_high = np.maximum(at_high, 0.0)
    nearest, miss = high, np.abs(at_high)
    moved_high = moved_low = np.zeros(low.shape, dtype=np.bool_)
    for _ in range(ROOT_STEPS):
        share = at_low / (at_low - at_high)
        middle = low + np.where(np.isfinite(share), share, 0.5) * (high - low)
        value = slack(middle)
        fits = value >= 0.0
        at_low = np.where(fits, np.where(moved_high, 0.5 * at_low, at_low), value)
        at_high = np.where(fits, value, np.where(moved_low, 0.5 * at_high, at_high))
        high = np.where(fits, middle, high)
        low = np.where(fits, low, middle)
        moved_high, moved_low = fits, ~fits
        size = np.abs(value)
        closer = size < miss
        nearest, miss = np.where(closer, middle, nearest), np.where(closer, size, miss)
    return nearest


def legs_of_pull(r: Rig, upper: Upper, z: FloatArray) -> Legs:
    """Legs at bar heights z (athletes, styles, heights): each piece is worked out only where some bar is in it."""
    past = z > r.knee_z
    columns = past.reshape(-1, z.shape[-1])
    some, every = columns.any(axis=0), columns.all(axis=0)
    if not some.any():
        return legs_to_knee(r, upper, z)
    curve = curve_of(r)
    if every.all():
        return legs_past_knee(r, upper, curve)
    shin_at, thigh_at = np.flatnonzero(~every), np.flatnonzero(some)
    shin = legs_to_knee(r, _of_heights(upper, shin_at), z[..., shin_at])
    thigh = legs_past_knee(r, _of_heights(upper, thigh_at), curve)
    joined = {}
    for f in fields(Legs):
        whole = np.empty(z.shape)
        whole[..., shin_at] = getattr(shin, f.name)
        whole[..., thigh_at] = np.where(past[..., thigh_at], getattr(thigh, f.name), whole[..., thigh_at])
        joined[f.name] = whole
    return Legs(**joined)


def _of_heights(upper: Upper, at: npt.NDArray[np.intp]) -> Upper:
    """The upper body at some of its heights."""
    return Upper(**{f.name: getattr(upper, f.name)[..., at] for f in fields(Upper)})
