"""Constants of the strength model, each with its source or the word calibration."""

from __future__ import annotations

import math

from analysis.core.body.constants import Constant, Kind

_listed: list[Constant] = []


def _listing(key: str, value: float, unit: str, kind: Kind, source: str) -> float:
    _listed.append(Constant(key, value, unit, kind, source))
    return value


def strength_constants() -> tuple[Constant, ...]:
    """Every constant of this file, in its order."""
    return tuple(_listed)


ANDERSON = "Anderson, Madigan and Nussbaum 2007, J Biomech 40:3105-3113, Table 3 (one leg, weight x height)"
GRAVES = "Graves et al. 1990, Spine 15:289-294"

# --- reference strength, multiplier 1 -----------------------------------------------------------------
HIP_YOUNG_MAN = _listing("hip extension, man 18-25", 0.161, "weight x height", "published", ANDERSON)
HIP_YOUNG_WOMAN = _listing("hip extension, woman 18-25", 0.181, "weight x height", "published", ANDERSON)
HIP_OLDER_MAN = _listing("hip extension, man 55-65", 0.171, "weight x height", "published", ANDERSON)
HIP_OLDER_WOMAN = _listing("hip extension, woman 55-65", 0.140, "weight x height", "published", ANDERSON)
KNEE_YOUNG_MAN = _listing("knee extension, man 18-25", 0.163, "weight x height", "published", ANDERSON)
KNEE_YOUNG_WOMAN = _listing("knee extension, woman 18-25", 0.159, "weight x height", "published", ANDERSON)
KNEE_OLDER_MAN = _listing("knee extension, man 55-65", 0.156, "weight x height", "published", ANDERSON)
KNEE_OLDER_WOMAN = _listing("knee extension, woman 55-65", 0.128, "weight x height", "published", ANDERSON)
YOUNG_AGE = _listing("middle of the young group", 21.5, "years", "published", ANDERSON)
OLDER_AGE = _listing("middle of the older group", 60.0, "years", "published", ANDERSON)
TRUNK_PER_SIZE = _listing(
    "lumbar extension, fully flexed: 407 N m at about 75 kg and 1.76 m",
    407.0 / (75.0 * 9.80665 * 1.76),
    "weight x height",
    "from memory",
    GRAVES + ", men; the lifters' size is a guess, and women are taken alike for their size (calibration)",
)
TRUNK_AGE_LOSS = _listing(
    "trunk extension lost from the young to the older age", 0.12, "1", "calibration", "as the other joints"
)
ADDUCTOR_PER_KG = _listing(
    "hip adduction, one leg", 1.7, "N m/kg", "calibration", "untrained adults are near 2 (from memory)"
)
ACROMION_SHARE = _listing("acromial height / stature", 0.820, "1", "published", "ANSUR II, Gordon et al. 2014")

# --- shape over the joint's angle ---------------------------------------------------------------------
KNEE_PEAK_MAN = _listing("knee flexion of greatest strength, man", 1.133, "rad", "published", ANDERSON)
KNEE_PEAK_WOMAN = _listing("the same, woman", 1.274, "rad", "published", ANDERSON)
HIP_PEAK_MAN = _listing("hip flexion of greatest strength, man", 0.932, "rad", "published", ANDERSON)
HIP_PEAK_WOMAN = _listing("the same, woman", 1.242, "rad", "published", ANDERSON)
KNEE_WIDTH = _listing(
    "how fast knee strength falls off, C2", 0.80, "1/rad", "calibration", "printed 1.258 predicts far too low squats"
)
HIP_WIDTH = _listing(
    "how fast hip strength falls off, C2", 0.48, "1/rad", "calibration", "printed 0.958 calls everybody hip-limited"
)
LEAST_SHAPE = _listing("least share of the peak at any angle", 0.05, "1", "calibration", "cosines are cut at this")
TRUNK_EXTENDED = _listing("trunk strength extended / fully flexed", 0.575, "1", "published", GRAVES + ", 234 / 407")
TRUNK_FULL_FLEXION = _listing("full lumbar flexion", math.radians(72.0), "rad", "published", GRAVES)
TRUNK_SET = _listing(
    "flexion of the lumbar spine when the model's bend is 0, share of full", 0.25, "1", "calibration", "hips flexed"
)
STRAIGHTENING_COST = _listing(
    "trunk strength lost while straightening at 160 deg per pull", 0.35, "1", "calibration", "0.8-0.9 published"
)
STRAIGHTENING_RATE = _listing("that rate", math.radians(160.0), "rad per pull", "calibration", "see above")

# --- what trained lifters' multipliers are ------------------------------------------------------------
HIP_MULTIPLIER = _listing(
    "hips, trained / reference", 2.35, "1", "calibration", "elite hip moments are twice untrained"
)
LEGS_MULTIPLIER = _listing(
    "legs, trained / reference", 1.12, "1", "calibration", "squat / deadlift 0.70-0.95 and front squat 0.6-0.7"
)
BACK_MULTIPLIER = _listing("back, trained / reference", 2.1, "1", "calibration", "deadlift of trained lifters")
GRIP_MULTIPLIER = _listing("grip, trained / reference", 1.0, "1", "calibration", "the reference is a lifter's grip")
MULTIPLIER_SD = _listing("log SD of every multiplier", 0.25, "1", "calibration", "spread of trained lifters")
GRIP_SD = _listing("log SD of the grip's multiplier", 0.20, "1", "calibration", "straps add 0-15 %: common practice")
GRIP_CORRELATION = _listing("grip with hips, legs and back", 0.6, "1", "calibration", "grips are trained by pulling")
GRIP_MAN = _listing("load held, hook or mixed, man / body weight", 2.7, "1", "calibration", "above most lifters' best")
GRIP_WOMAN = _listing("load held, hook or mixed, woman / body weight", 2.6, "1", "calibration", "as above")
GRIP_DOUBLE_OVERHAND = _listing(
    "double overhand / mixed or hook", 0.75, "1", "common practice", "60-80 % of the best, no source"
)

# --- style factor: what statics does not know (skill, hip range, abduction) ---------------------------
STYLE_SD = _listing("log SD of a style's factor between lifters", 0.08, "1", "calibration", "0.92-1.08 among trained")
SUMO_MEAN = _listing("log mean factor, sumo", -0.11, "1", "calibration", "centres the population ratio on 1")
WIDE_MEAN = _listing("log mean factor, wide sumo", 0.07, "1", "calibration", "centres the population ratio on 1")
SQUAT_MEAN = _listing("log mean factor, squats", 0.0, "1", "calibration", "back squat / deadlift 0.70-0.95")
SQUAT_SD = _listing("log SD of the squats' factor", 0.06, "1", "calibration", "skill in one lift and not the other")

DEFICIT_LOSS = _listing(
    "log best lost per metre of deficit beyond statics", 0.5, "1/m", "calibration", "2 in deficit 0.92-0.97 of floor"
)
NOMINAL_LOAD = _listing(
    "load at which a bar's stiffness is taken / body mass", 2.2, "1", "calibration", "a usual pull of a trained lifter"
)

# --- squats -------------------------------------------------------------------------------------------
SQUAT_TURNOUT = _listing("squat turnout", math.radians(25.0), "rad", "common practice", "shoulder-wide stance")
SQUAT_SHANK_LEAN = _listing("shank lean, parallel back squat", math.radians(32.0), "rad", "from memory", "28-40 deg")
FRONT_SHANK_LEAN = _listing("shank lean, parallel front squat", math.radians(37.0), "rad", "from memory", "32-42 deg")
BACK_BAR_DOWN = _listing(
    "bar below the shoulder centre along the trunk, back squat", 0.02, "m", "calibration", "bar on the upper back"
)
BACK_BAR_BEHIND = _listing("bar behind the trunk's line, back squat", 0.06, "m", "calibration", "bar on the upper back")
FRONT_BAR_AHEAD = _listing(
    "bar ahead of the trunk's line, front squat", 0.08, "m", "calibration", "bar on the front of the shoulders"
)
SQUAT_SPINE = _listing("spinal flexion in squats", math.radians(12.0), "rad", "calibration", "as a flat pull")
