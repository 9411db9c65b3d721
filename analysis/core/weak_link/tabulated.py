"""One kind of lift as arrays over its heights, and the loads its links allow under many draws at once.

Every limit is a straight line in its multipliers, which makes a draw cheap. Hips and back do not depend on the push.
Pushing the feet apart takes from the adductors what it gives to the knees at a fixed rate, so the best push is known
without trying any: the legs allow the least of what the knees allow without a push, what knees and adductors allow
together, and what the adductors allow at the greatest push.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from analysis.core.records.demands import KindDemand
from analysis.core.records.plain import CoreError
from analysis.core.records.terms import band_edges
from analysis.core.strength.demand_table import strength_prior

FloatArray = npt.NDArray[np.float64]

BIG_KG = 1e4  # stands for "does not limit"
SLOPE_SD = 0.24  # calibration: strength at lockout against the floor, share per whole pull, each link its own
SLOPE_CENTRE = 0.3  # share of the pull where the slope turns the curve
LEAST_SHAPE = 0.05  # of a link's strength, whatever the slope
FLOOR_SD = 0.12  # calibration: log of all loads above the floor band against those in it
KNEE_START, KNEE_START_SD = 1.7, 0.4  # median and log SD of the knee's demand over the net moment's, at the floor start
KNEE_LATER, KNEE_LATER_SD = 1.2, 0.25  # the same from KNEE_FADE on, and all the way in wide stances
KNEE_FADE = 0.35  # share of the pull over which the first pair turns into the second
KNEE_CORRELATION = 0.7  # of the two styles' factors in one lifter
CENTRED_ON = 256  # draws of the prior by whose median a kind is centred


@lru_cache(maxsize=8192)
def kind_arrays(kind: KindDemand, blur_m: float) -> Mapping[str, FloatArray | float]:
    """One kind as the draws need it; kept, since the same tables are asked again whenever a set is logged."""
    hip_gain, hip_drop = _line(kind, 0)
    back_gain, back_drop = _line(kind, 3)
    knee_gain, adductor_gain, legs_drop = legs_lines(kind)
    knee_log, knee_sd, knee_mix = _knee_factor(kind)
    notes = note_chances(kind, blur_m)
    metres = np.gradient(kind.z)
    arrays: dict[str, FloatArray] = {
        "u": kind.u,
        "hip_gain": hip_gain,
        "hip_drop": hip_drop,
        "back_gain": back_gain,
        "back_drop": back_drop,
        "knee_gain": knee_gain,
        "adductor_gain": adductor_gain,
        "legs_drop": legs_drop,
        "knee_log": knee_log,
        "knee_sd": knee_sd,
        "knee_mix": knee_mix,
        "above": 1.0 - notes[:, 0] if kind.lift == "deadlift" else np.zeros_like(kind.u),
        "bend": np.minimum(kind.bend_kg, BIG_KG * 10),
        "notes": notes,
        "stops": notes * (metres / metres.sum())[:, None],
    }
    style_mean = kind.style_mean + lost_to_shape(arrays)
    return arrays | {"style_mean": style_mean, "grip_kg": min(kind.grip_kg, BIG_KG) * float(np.exp(-style_mean))}


def _line(kind: KindDemand, link: int) -> tuple[FloatArray, FloatArray]:
    """kg per unit of multiplier and kg taken by the body, for a link that the push does not change."""
    a, b = kind.a[link], kind.b[link]
    if np.ptp(a, axis=0).max() > 1e-6 * np.abs(a).max() or np.ptp(b, axis=0).max() > 1e-3:
        raise CoreError("demand table", "the hip's and the back's demand must not depend on the push")
    gain, _, drop = _limit(kind.valid, a[0], b[0], kind.capacity[link], np.zeros_like(a[0]))
    return gain, drop


def _limit(
    valid: npt.NDArray[np.bool_], a: FloatArray, b: FloatArray, first: FloatArray, second: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """W allowed by a W + b = m1 first + m2 second as gains of both and drop; BIG_KG where the load does not press."""
    limits = valid & (a > 1e-6)
    safe = np.where(limits, a, 1.0)
    drop = np.where(limits, b / safe, -BIG_KG)
    return np.where(limits, first / safe, 0.0), np.where(limits, second / safe, 0.0), drop


def legs_lines(kind: KindDemand) -> tuple[FloatArray, FloatArray, FloatArray]:
    """The three limits of the legs (3 x heights): knees without push, both together, adductors at the greatest push.

    With the push p the knees ask a0 + p a1 and the adductors c0 - p r a1, the same r for load and body; r times the
    first plus the second does not depend on p, so a load is held at some push if and only if it obeys all three. The
    ground bears only so much push, so the greatest may be less than asked.
    """
    a, b, held = kind.a[1:3], kind.b[1:3], kind.capacity[1:3]
    if max(float(np.abs(x - _straight(x, a[1])).max()) for x in (a, b)) > 1e-6 * float(np.abs(b).max() + 1.0):
        raise CoreError("demand table", "the knee's and the adductors' demand must be straight in the push")
    gives, takes = a[0, -1] - a[0, 0], a[1, 0] - a[1, -1]
    trade = gives * (b[1, 0] - b[1, -1]) - takes * (b[0, -1] - b[0, 0])
    if np.abs(trade).max() > 1e-6 * float(np.abs(takes).max() * np.abs(b[0]).max() + 1.0):
        raise CoreError("demand table", "load and body must trade knees for adductors at one rate")
    none = np.zeros_like(gives)
    both = takes * a[0, 0] + gives * a[1, 0], takes * b[0, 0] + gives * b[1, 0]
    rows = [
        _limit(kind.valid, a[0, 0], b[0, 0], held[0], none),
        _limit(kind.valid & (gives > 1e-9), *both, takes * held[0], gives * held[1]),
        _limit(kind.valid, a[1, -1], b[1, -1], none, held[1]),
    ]
    knee, adductor, drop = (np.stack(part) for part in zip(*rows, strict=True))
    return knee, adductor, drop


def _straight(values: FloatArray, adductors: FloatArray) -> FloatArray:
    """Values (links x push x heights) on the straight line between the least and the greatest push.

    How far each push goes is read from the adductors' demand (push x heights), which no other cause changes.
    """
    whole = adductors[-1] - adductors[0]
    share = (adductors - adductors[0]) / np.where(np.abs(whole) > 1e-12, whole, 1.0)
    return np.asarray(values[:, :1] + (values[:, -1:] - values[:, :1]) * share)


def _knee_factor(kind: KindDemand) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Log median and log SD over the heights of the knee's demand against its net moment, and its two weights.

    Hamstrings pull against the knee, so it must give more than the net moment (Hanen 2025; Choe 2021: 1.2 to 2.0;
    calibration between). Squats keep 1: their references are squats.
    """
    if kind.lift != "deadlift":
        return np.zeros_like(kind.u), np.zeros_like(kind.u), np.zeros(2)
    later = np.full_like(kind.u, np.log(KNEE_LATER)), np.full_like(kind.u, KNEE_LATER_SD)
    if kind.style != "conventional":
        return *later, np.array([KNEE_CORRELATION, np.sqrt(1.0 - KNEE_CORRELATION**2)])
    early = np.clip(1.0 - kind.u / KNEE_FADE, 0.0, 1.0)
    log_factor = later[0] + early * np.log(KNEE_START / KNEE_LATER)
    return log_factor, later[1] + early * (KNEE_START_SD - KNEE_LATER_SD), np.array([1.0, 0.0])


def note_chances(kind: KindDemand, blur_m: float) -> FloatArray:
    """Chance of each noted position at each height (heights x positions): `band_edges` blurred over `blur_m` in all."""
    edges = band_edges(float(kind.z[0]), kind.knee_z, float(kind.z[-1]))
    below = 1.0 / (1.0 + np.exp(-1.702 * (np.array(edges) - kind.z[:, None]) / (0.5 * blur_m)))
    reached = np.concatenate([np.zeros((len(kind.z), 1)), below, np.ones((len(kind.z), 1))], axis=1)
    return np.maximum(np.diff(reached, axis=1), 1e-9)


class Shape(NamedTuple):
    """Draws that bend a pull: slopes ... x 3, floor term ..., knee unknowns ... x 2 (standard normal)."""

    slope: FloatArray
    floor: FloatArray
    knee: FloatArray


def loads(kind: Mapping[str, FloatArray], strength: FloatArray, shape: Shape) -> tuple[FloatArray, ...]:
    """Load (kg) that hips, legs and back allow at each height, athletes x draws x heights.

    `kind` holds the arrays of `kind_arrays`, athletes x heights (limits of the legs athletes x 3 x heights);
    `strength` the multipliers, athletes x draws x 3 or 4.
    """
    # heights lie before draws inside: sums over 31 heights then run along thousands of draws, a third faster
    lever = (kind["u"] - SLOPE_CENTRE)[..., None]
    rise = 1.0 + kind["above"][..., None] * np.expm1(shape.floor)[:, None]

    def shaped(link: int) -> FloatArray:
        bent = lever * shape.slope[:, None, :, link]
        bent += 1.0
        np.maximum(bent, LEAST_SHAPE, out=bent)
        bent *= strength[:, None, :, link]
        return np.asarray(bent)

    def by_height(load: FloatArray) -> FloatArray:
        np.maximum(load, 1.0, out=load)
        load *= rise
        return np.swapaxes(load, 1, 2)

    def limit_of(gain: str, drop: str, link: int) -> FloatArray:
        load = shaped(link)
        load *= kind[gain][..., None]
        load -= kind[drop][..., None]
        return by_height(load)

    hips, back = limit_of("hip_gain", "hip_drop", 0), limit_of("back_gain", "back_drop", 2)
    return hips, by_height(_legs(kind, shaped(1), shape.knee)), back


def _legs(kind: Mapping[str, FloatArray], legs: FloatArray, knee: FloatArray) -> FloatArray:
    """The least of the three limits of the legs, for multipliers athletes x heights x draws."""
    mixed = (knee @ kind["knee_mix"][..., None])[..., 0]
    knees = -kind["knee_sd"][..., None] * mixed[:, None]
    knees -= kind["knee_log"][..., None]
    np.exp(knees, out=knees)
    knees *= legs
    least = knees * kind["knee_gain"][:, 0, :, None]
    least -= kind["legs_drop"][:, 0, :, None]
    for row in (1, 2):
        limit = legs * kind["adductor_gain"][:, row, :, None]
        if kind["knee_gain"][:, row].any():
            limit += knees * kind["knee_gain"][:, row, :, None]
        limit -= kind["legs_drop"][:, row, :, None]
        np.minimum(least, limit, out=least)
    return least


def binding(allowed: FloatArray, bend: FloatArray) -> FloatArray:
    """Largest load W (kg) with min(W, load in the hands at that height) <= allowed at every height."""
    if bend.min() < BIG_KG:
        allowed = np.where(allowed >= bend, np.inf, allowed)
    return np.asarray(allowed.min(axis=-1).clip(max=1e5))


@lru_cache(maxsize=1)
def _prior_draws() -> tuple[FloatArray, Shape]:
    """A fixed handful of the prior: multipliers and shapes, 1 x draws."""
    rng, prior = np.random.default_rng(1), strength_prior()
    normal = rng.standard_normal((1, CENTRED_ON, 4))
    root = prior.log_sd[:, None] * np.linalg.cholesky(prior.correlation)
    slope = SLOPE_SD * rng.standard_normal((1, CENTRED_ON, 3))
    floor = FLOOR_SD * rng.standard_normal((1, CENTRED_ON))
    knee = rng.standard_normal((1, CENTRED_ON, 2))
    return np.exp(prior.log_mean + normal @ root.T), Shape(slope, floor, knee)


def lost_to_shape(arrays: Mapping[str, FloatArray]) -> float:
    """Log of the median best that slopes, floor term and knee factor take: a kind is centred by adding it again.

    A best is the least over all heights, so whatever bends the curve about its mean lowers it.
    """
    strength, shape = _prior_draws()
    straight = Shape(*(np.zeros_like(part) for part in shape))
    one = {name: np.asarray(values)[None] for name, values in arrays.items()}
    plain = one | {"knee_log": np.zeros_like(one["knee_log"])}
    medians = [
        np.median(np.min([binding(load, one["bend"][:, None]) for load in loads(kind, strength, bent)], axis=0))
        for kind, bent in ((plain, straight), (one, shape))
    ]
    return float(np.log(medians[0] / medians[1]))
