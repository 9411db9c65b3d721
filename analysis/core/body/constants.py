"""Every constant of the mechanics, once, with its unit, how surely it is known, and where it comes from."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

Kind = Literal["published", "from memory", "calibration", "common practice"]


@dataclass(frozen=True, slots=True)
class Constant:
    """One number of the model; `value` in `unit`, `kind` says how surely it is known, `source` where from."""

    key: str
    value: float
    unit: str
    kind: Kind
    source: str


_listed: list[Constant] = []


def _listing(key: str, value: float, unit: str, kind: Kind, source: str) -> float:
    _listed.append(Constant(key, value, unit, kind, source))
    return value


def all_constants() -> tuple[Constant, ...]:
    """Every listed constant, in the order of this file."""
    return tuple(_listed)


ESCAMILLA_2000 = "Escamilla et al. 2000, Med Sci Sports Exerc 32:1265-1275, mean of 12 lifters a style"
DE_LEVA = "de Leva 1996, J Biomech 29:1223-1230, Table 4"
DRILLIS = "Drillis and Contini 1966, as drawn in Winter, Biomechanics and Motor Control of Human Movement"
RULES = "technical rules of powerlifting: largest disc 450 mm"

# --- body ---------------------------------------------------------------------------------------------
ACROMION_TO_SHOULDER_CENTRE_M = _listing(
    "acromion to shoulder joint centre", 0.035, "m", "from memory", "the joint centre lies about 3-4 cm below"
)
HIP_SPACING_OF_HIP_BREADTH = _listing(
    "hip joint spacing / hip breadth", 0.50, "1", "from memory", "joint centres about 17 cm apart in adults"
)
SHOULDER_SPACING_OF_BIACROMIAL = _listing(
    "shoulder joint spacing / biacromial breadth", 0.88, "1", "from memory", "joint centres lie inside acromia"
)
HEEL_BEHIND_ANKLE = _listing("heel behind ankle / foot length", 0.19, "1", "from memory", "Winter's foot")
MID_FOOT = _listing("mid-foot / foot length from heel", 0.50, "1", "common practice", "bar over mid-foot")
ANKLE_SHARE = _listing("ankle height / stature", 0.039, "1", "published", DRILLIS)
SHANK_SHARE = _listing("shank / stature", 0.246, "1", "from memory", DRILLIS)
THIGH_SHARE = _listing("thigh / stature", 0.245, "1", "from memory", DRILLIS)
TRUNK_SHARE = _listing("hip to shoulder / stature", 0.288, "1", "published", DRILLIS)
ARM_SHARE = _listing(
    "shoulder to middle of the fist / stature",
    0.386,
    "1",
    "from memory",
    DRILLIS + ": 0.186 + 0.146 + half of the hand 0.108",
)
FOOT_SHARE = _listing("foot length / stature", 0.152, "1", "from memory", DRILLIS)
HIP_BREADTH_SHARE = _listing(
    "hip breadth / stature", 0.197, "1", "published", "ANSUR II men, Gordon et al. 2014, NATICK/TR-15/007"
)
BIACROMIAL_SHARE = _listing(
    "biacromial breadth / stature", 0.237, "1", "published", "ANSUR II men, Gordon et al. 2014, NATICK/TR-15/007"
)
DRILLIS_LINK_SD = _listing(
    "SD of a rough-share link / its length", 0.04, "1", "calibration", "about the spread of ANSUR II ratios"
)

# --- trunk --------------------------------------------------------------------------------------------
SPINAL_JOINT = _listing(
    "spinal joint / trunk length above the hip", 0.40, "1", "calibration", "one bend stands for the lumbar curve"
)
L4L5 = _listing("L4/L5 / trunk length above the hip", 0.175, "1", "from memory", "middle of the quoted 0.15-0.20")
FLAT_SPINE_RAD = _listing(
    "spinal flexion, flat", math.radians(12.0), "rad", "calibration", "inside Schellenberg et al. 2013: 7-26 deg"
)
ROUNDED_SPINE_RAD = _listing(
    "spinal flexion, rounded", math.radians(40.0), "rad", "calibration", "about 0.55 of full lumbar flexion 72 deg"
)
UNBEND_FROM_U = _listing(
    "share of the pull where the spine begins to straighten",
    0.35,
    "1",
    "calibration",
    "smoothstep to lockout; from 0.50 the spine straightens faster than the trunk rises and bends the hip again",
)
ROUNDED_BY_U = _listing(
    "share of the pull by which a back that rounds on the way has rounded",
    0.35,
    "1",
    "common practice",
    "backs are seen to round as the bar leaves the floor and passes the shin",
)

# --- reach and contact --------------------------------------------------------------------------------
GIRDLE_AT_LOCKOUT_M = _listing(
    "reach given by the shoulder girdle at lockout", 0.02, "m", "calibration", "shoulders partly drawn back"
)
GIRDLE_WHEN_ROUNDED_M = _listing(
    "further reach when rounded to 40 deg", 0.03, "m", "calibration", "shoulder blades slide forward"
)
SHIN_HALF_DEPTH_M = _listing(
    "shin axis to its front", 0.035, "m", "calibration", "with the mean gap of the bar the 4 cm that fit calf girths"
)
THIGH_HALF_DEPTH_M = _listing("thigh axis to its front", 0.065, "m", "calibration", "thigh girth of an adult")
SHIN_WIDENS_FROM = _listing(
    "share of the shank from which the shin's depth grows to the knee's",
    0.35,
    "1",
    "calibration",
    "smoothstep; over the last quarter alone the knee stalls as the bar reaches it",
)
BAR_RADIUS_M = _listing("radius of an ordinary bar", 0.0145, "m", "published", "shaft 28-29 mm, technical rules")
FLOOR_START_M = _listing("bar centre above the floor, 450 mm discs", 0.225, "m", "published", RULES)
DISC_DIAMETER_M = _listing("disc diameter", 0.450, "m", "published", RULES)

# --- path ---------------------------------------------------------------------------------------------
LEAST_SLOPE = _listing(
    "least slope of knee over hip angle as the bar passes the knee, over the mean slope to lockout",
    0.2,
    "1",
    "calibration",
    "keeps the curve of knee over hip rising",
)
GREATEST_SLOPE = _listing(
    "greatest slope, likewise", 3.5, "1", "calibration", "the curve f(p) = p + (k - 1)(p^3 - p^2) rises for k < 4"
)
ARMS_PER_LEAD = _listing(
    "knee opening at the knee for one degree of arms ahead there",
    1.07,
    "1",
    "calibration",
    "computed on the model: legs-first = lead of the knees + 1.07 x arms ahead at the knee",
)

# --- styles -------------------------------------------------------------------------------------------
MEAN_LEG_M = _listing("shank and thigh, mean", 0.828, "m", "published", "ANSUR II men, Gordon et al. 2014")
CONVENTIONAL_HANDS_M = _listing("hand spacing, conventional", 0.55, "m", "published", ESCAMILLA_2000)
SUMO_HANDS_M = _listing("hand spacing, sumo", 0.47, "m", "published", ESCAMILLA_2000)
SUMO_STANCE_OF_LEG = _listing(
    "stance, sumo / (shank + thigh)", 0.84, "1", "published", ESCAMILLA_2000 + ": 0.70 m over the mean leg of 0.828 m"
)
WIDE_STANCE_OF_LEG = _listing(
    "stance, wide sumo / (shank + thigh)", 1.08, "1", "calibration", "feet close to the discs for an average man"
)

BETWEEN_COLLARS_M = _listing("between the collars", 1.31, "m", "published", "technical rules: 1.31-1.32 m")
SHOE_WIDTH_M = _listing("width of a shoe", 0.10, "m", "from memory", "usual lifting shoe")

# --- habits: mean and standard deviation between lifters ----------------------------------------------
CONVENTIONAL_STANCE_M = _listing("stance, conventional", 0.32, "m", "published", ESCAMILLA_2000)
CONVENTIONAL_STANCE_SD_M = _listing("SD of the stance, conventional", 0.08, "m", "published", ESCAMILLA_2000)
SUMO_STANCE_SD_M = _listing("SD of the stance, sumo and wide sumo", 0.11, "m", "published", ESCAMILLA_2000)
CONVENTIONAL_TURNOUT_RAD = _listing("turnout, conventional", math.radians(14.0), "rad", "published", ESCAMILLA_2000)
CONVENTIONAL_TURNOUT_SD_RAD = _listing(
    "SD of the turnout, conventional", math.radians(6.0), "rad", "published", ESCAMILLA_2000
)
SUMO_TURNOUT_RAD = _listing("turnout, sumo", math.radians(42.0), "rad", "published", ESCAMILLA_2000)
WIDE_TURNOUT_RAD = _listing("turnout, wide sumo", math.radians(45.0), "rad", "common practice", "as sumo")
SUMO_TURNOUT_SD_RAD = _listing(
    "SD of the turnout, sumo and wide sumo", math.radians(8.0), "rad", "published", ESCAMILLA_2000
)
ARM_AHEAD_RAD = _listing(
    "arm ahead of the vertical at lift-off", math.radians(5.0), "rad", "common practice", "shoulders ahead of the bar"
)
ARM_AHEAD_SD_RAD = _listing(
    "SD of the arm ahead of the vertical at lift-off", math.radians(3.0), "rad", "calibration", "spread seen in the gym"
)
BAR_AHEAD_M = _listing("bar ahead of mid-foot at lift-off", 0.0, "m", "common practice", "bar over mid-foot")
BAR_AHEAD_SD_M = _listing(
    "SD of the bar ahead of mid-foot at lift-off", 0.012, "m", "calibration", "about a thumb's breadth"
)
SHIN_GAP_M = _listing("bar to shin at lift-off", 0.005, "m", "calibration", "bar near or on the shin")
SHIN_GAP_SD_M = _listing(
    "SD of the bar to shin at lift-off, never below 0", 0.006, "m", "calibration", "sets the lean of the shank"
)
SPINE_SD_RAD = _listing(
    "SD of the spinal flexion", math.radians(6.0), "rad", "published", "Schellenberg et al. 2013: SD 4.7 deg, widened"
)
GIRDLE_M = _listing(
    "reach given by the shoulder girdle at the floor", 0.05, "m", "calibration", "brings angles into Schellenberg's"
)
GIRDLE_SD_M = _listing(
    "SD of the shoulder girdle's reach at the floor", 0.015, "m", "calibration", "shoulders held back or let go"
)
DRIFT_M = _listing(
    "bar drifts back from lift-off to the knee", 0.02, "m", "from memory", "1-4 cm in bar tracks, not verified"
)
DRIFT_SD_M = _listing("SD of the drift of the bar", 0.01, "m", "from memory", "as above")
LEAD_RAD = _listing(
    "knees straighter than shin contact asks as the bar passes the knee",
    math.radians(5.0),
    "rad",
    "calibration",
    "half-way to thigh 57 and trunk 32 deg 6 cm below the knee, Hales, Johnson and Johnson 2009",
)
LEAD_SD_RAD = _listing("SD of the lead of the knees", math.radians(3.0), "rad", "calibration", "as above")
ARMS_AT_KNEE_RAD = _listing(
    "arms further ahead as the bar passes the knee", math.radians(2.0), "rad", "calibration", "as above"
)
ARMS_AT_KNEE_SD_RAD = _listing("SD of the arms ahead at the knee", math.radians(3.0), "rad", "calibration", "as above")

# --- ground and moments -------------------------------------------------------------------------------
FRICTION = _listing("largest inward lean of the ground force", 0.6, "1", "from memory", "shoe on a dry platform")
DEFAULT_PUSH = _listing(
    "share of aiming the ground force at the hip, for tables",
    0.5,
    "1",
    "calibration",
    "gives the quadriceps activity ratio sumo / conventional of about 1.15 in Hanen et al. 2025",
)
HAMSTRING_SHARE = _listing(
    "hamstrings' share of hip extension", 0.4, "1", "from memory", "about two fifths of the extensors' moment"
)
HAMSTRING_KNEE_LEVER = _listing(
    "hamstrings' lever at the knee / at the hip", 0.5, "1", "from memory", "about 3 cm against 6 cm"
)

# --- bar ----------------------------------------------------------------------------------------------
STEEL_MODULUS_PA = _listing("Young's modulus of bar steel", 200e9, "Pa", "from memory", "190-210 GPa")
DISC_THICKNESS_M = _listing("thickness of a calibrated 25 kg steel disc", 0.027, "m", "from memory", "25-27 mm")
DISC_MASS_KG = _listing("disc used to count the stack", 25.0, "kg", "published", "technical rules")
BAR_AND_COLLARS_KG = _listing("bar and collars", 25.0, "kg", "published", "technical rules")
