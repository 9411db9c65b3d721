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
    "share of the pull where the spine begins to straighten", 0.50, "1", "calibration", "smoothstep to lockout"
)
ROUNDED_BY_U = _listing(
    "share of the pull by which a back that rounds on the way has rounded",
    0.35,
    "1",
    "common practice",
    "backs are seen to round as the bar leaves the floor and passes the shin",
)

# --- reach and contact --------------------------------------------------------------------------------
ARM_AHEAD_AT_FLOOR_RAD = _listing(
    "arm ahead of the vertical at the floor", math.radians(5.0), "rad", "common practice", "shoulders ahead of bar"
)
GIRDLE_AT_FLOOR_M = _listing(
    "reach given by the shoulder girdle at the floor", 0.05, "m", "calibration", "brings angles into Schellenberg's"
)
GIRDLE_AT_LOCKOUT_M = _listing("the same at lockout", 0.02, "m", "calibration", "shoulders partly drawn back")
GIRDLE_WHEN_ROUNDED_M = _listing(
    "further reach when rounded to 40 deg", 0.03, "m", "calibration", "shoulder blades slide forward"
)
SHIN_HALF_DEPTH_M = _listing("shin axis to its front", 0.040, "m", "calibration", "calf girth of an adult")
THIGH_HALF_DEPTH_M = _listing("thigh axis to its front", 0.065, "m", "calibration", "thigh girth of an adult")
SHIN_WIDENS_FROM = _listing(
    "share of the shank where the shin depth grows to the knee's", 0.75, "1", "calibration", "knee cap and tendon"
)
HIP_LAGS = _listing(
    "least hip flexion past the knee / that at the knee, times the way left",
    0.85,
    "1",
    "calibration",
    "hips and knees finish together; acts in wide stances only",
)
BAR_RADIUS_M = _listing("radius of an ordinary bar", 0.0145, "m", "published", "shaft 28-29 mm, technical rules")
FLOOR_START_M = _listing("bar centre above the floor, 450 mm discs", 0.225, "m", "published", RULES)
DISC_DIAMETER_M = _listing("disc diameter", 0.450, "m", "published", RULES)

# --- styles -------------------------------------------------------------------------------------------
CONVENTIONAL_STANCE_M = _listing("stance, conventional", 0.32, "m", "published", ESCAMILLA_2000)
CONVENTIONAL_TURNOUT_RAD = _listing("turnout, conventional", math.radians(14.0), "rad", "published", ESCAMILLA_2000)
CONVENTIONAL_HANDS_M = _listing("hand spacing, conventional", 0.55, "m", "published", ESCAMILLA_2000)
SUMO_STANCE_M = _listing("stance, sumo", 0.70, "m", "published", ESCAMILLA_2000)
SUMO_TURNOUT_RAD = _listing("turnout, sumo", math.radians(42.0), "rad", "published", ESCAMILLA_2000)
SUMO_HANDS_M = _listing("hand spacing, sumo", 0.47, "m", "published", ESCAMILLA_2000)
WIDE_STANCE_M = _listing("stance, wide sumo", 0.95, "m", "common practice", "feet close to the discs")
WIDE_TURNOUT_RAD = _listing("turnout, wide sumo", math.radians(45.0), "rad", "common practice", "as sumo")

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
