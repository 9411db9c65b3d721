"""What lifters do differently with the same body: the spread of ten habits by style, and draws of them.

Order, units and signs as in records.postures.HABITS (m, rad). A habit nobody looked at is drawn, never fixed.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from analysis.core.body import constants as c
from analysis.core.body.body import Body
from analysis.core.records.postures import HABITS

FloatArray = npt.NDArray[np.float64]

# what a habit may be at all: m and rad; draws and refits stay inside
HABIT_BOUNDS: dict[str, tuple[float, float]] = {
    "stance_m": (0.0, 2.0),
    "turnout_rad": (0.0, math.radians(85.0)),
    "arm_ahead_rad": (math.radians(-10.0), math.radians(20.0)),
    "bar_ahead_m": (-0.06, 0.06),
    "shin_gap_m": (0.0, 0.05),
    "spinal_flexion_rad": (0.0, math.radians(75.0)),
    "girdle_m": (0.0, 0.12),
    "drift_m": (0.0, 0.04),
    "lead_rad": (0.0, math.radians(20.0)),  # never more bent than the bar on the shin allows
    "arms_at_knee_rad": (math.radians(-10.0), math.radians(15.0)),
}
LOW, HIGH = (np.array([HABIT_BOUNDS[key][end] for key in HABITS]) for end in (0, 1))


@dataclass(frozen=True, slots=True)
class HabitPrior:
    """Mean (of an average man) and standard deviation of the ten habits among lifters of one style.

    `stance_of_leg` > 0: the mean stance is that share of shank and thigh instead, see usual_stance.
    """

    mean: tuple[float, ...]
    sd: tuple[float, ...]
    stance_of_leg: float
    hand_spacing_m: float


def _prior(stance: tuple[float, float, float], turnout: tuple[float, float], bend: float, hands: float) -> HabitPrior:
    mean, sd, of_leg = stance
    rows = (
        (mean, sd),
        turnout,
        (c.ARM_AHEAD_RAD, c.ARM_AHEAD_SD_RAD),
        (c.BAR_AHEAD_M, c.BAR_AHEAD_SD_M),
        (c.SHIN_GAP_M, c.SHIN_GAP_SD_M),
        (bend, c.SPINE_SD_RAD),
        (c.GIRDLE_M, c.GIRDLE_SD_M),
        (c.DRIFT_M, c.DRIFT_SD_M),
        (c.LEAD_RAD, c.LEAD_SD_RAD),
        (c.ARMS_AT_KNEE_RAD, c.ARMS_AT_KNEE_SD_RAD),
    )
    return HabitPrior(tuple(row[0] for row in rows), tuple(row[1] for row in rows), of_leg, hands)


def _narrow(bend: float) -> HabitPrior:
    stance = (c.CONVENTIONAL_STANCE_M, c.CONVENTIONAL_STANCE_SD_M, 0.0)
    turnout = (c.CONVENTIONAL_TURNOUT_RAD, c.CONVENTIONAL_TURNOUT_SD_RAD)
    return _prior(stance, turnout, bend, c.CONVENTIONAL_HANDS_M)


def _spread(of_leg: float, turnout: float) -> HabitPrior:
    stance = (of_leg * c.MEAN_LEG_M, c.SUMO_STANCE_SD_M, of_leg)
    return _prior(stance, (turnout, c.SUMO_TURNOUT_SD_RAD), c.FLAT_SPINE_RAD, c.SUMO_HANDS_M)


HABIT_PRIORS: dict[str, HabitPrior] = {
    "conventional": _narrow(c.FLAT_SPINE_RAD),
    "sumo": _spread(c.SUMO_STANCE_OF_LEG, c.SUMO_TURNOUT_RAD),
    "wide-sumo": _spread(c.WIDE_STANCE_OF_LEG, c.WIDE_TURNOUT_RAD),
    "rounded": _narrow(c.ROUNDED_SPINE_RAD),
}
# one lifter's conventional pulls share habits whatever the back does, and sumo pulls whatever the width
_FAMILY = {"conventional": 0, "rounded": 0, "sumo": 1, "wide-sumo": 1}


MEAN_STANCES = {style: prior.mean[0] for style, prior in HABIT_PRIORS.items()}


def usual_stance(style: str, body: Body) -> FloatArray:
    """The middle of people's stances (m) in a style for bodies of this size, in the bodies' shape.

    By the leg, but no wider than the discs leave room for turned-out shoes, nor than lets the hips start level with
    the knees: a long trunk on short legs would sit below them. That stance follows from a vertical shank, a level
    thigh, and a flat trunk from the hip to a shoulder ahead of the bar.
    """
    prior = HABIT_PRIORS[style]
    if not prior.stance_of_leg:
        return np.full(body.mass.shape, prior.mean[0])
    of = dict(zip(HABITS, prior.mean, strict=True))
    turnout, arm = of["turnout_rad"], of["arm_ahead_rad"]
    toe, shoe = (1.0 - c.HEEL_BEHIND_ANKLE) * body.foot, 0.5 * c.SHOE_WIDTH_M
    room = c.BETWEEN_COLLARS_M - 2.0 * (toe * math.sin(turnout) + shoe * math.cos(turnout))
    reach = body.arm + of["girdle_m"]
    above_knee = c.FLOOR_START_M + reach * math.cos(arm) - body.ankle - body.shank
    hip_behind = np.sqrt(np.maximum(body.trunk**2 - above_knee**2, 0.0))
    contact = c.SHIN_HALF_DEPTH_M + c.BAR_RADIUS_M + of["shin_gap_m"]
    thigh_seen = np.maximum(hip_behind - reach * math.sin(arm) - contact, 0.0)
    level = body.hip_spacing + 2.0 * np.sqrt(np.maximum(body.thigh**2 - thigh_seen**2, 0.0))
    by_leg = prior.stance_of_leg * (body.shank + body.thigh)
    return np.asarray(np.minimum(by_leg, np.minimum(room, np.maximum(level, c.CONVENTIONAL_STANCE_M))))


def mean_habits(style: str, body: Body) -> FloatArray:
    """People's mean habits for bodies (n,), shape (n, 10)."""
    found = np.tile(np.array(HABIT_PRIORS[style].mean), (len(body), 1))
    found[:, 0] = usual_stance(style, body)
    return found


def prior_covariance(style: str) -> FloatArray:
    """Covariance (10, 10) of the habits among lifters of a style: they are taken as independent."""
    return np.diag(np.array(HABIT_PRIORS[style].sd) ** 2)


@functools.lru_cache(maxsize=64)
def _noise(family: int, draws: int, seed: int) -> FloatArray:
    half = np.random.default_rng([seed, 1 + family]).standard_normal(((draws + 1) // 2, len(HABITS)))
    noise = np.concatenate([np.zeros((1, len(HABITS))), half, -half])[: draws + 1]
    noise.flags.writeable = False
    return noise


def drawn_habits(styles: Sequence[str], covariances: Sequence[FloatArray], draws: int, seed: int = 0) -> FloatArray:
    """Departures of the habits from their middle, (1 + draws, styles, 10): zero first, then mirrored pairs.

    Same seed, same draws, whatever else is asked for. Styles that are one lifter's way with another back or width
    depart together, so that their differences are paired.
    """
    found = np.empty((draws + 1, len(styles), len(HABITS)))
    for at, (style, covariance) in enumerate(zip(styles, covariances, strict=True)):
        values, vectors = np.linalg.eigh(covariance)
        root = vectors * np.sqrt(np.maximum(values, 0.0))
        # the symmetric root: two styles with like covariances then depart alike, habit by habit
        found[:, at] = _noise(_FAMILY[style], draws, seed) @ (root @ vectors.T).T
    return found
