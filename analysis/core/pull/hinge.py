"""What lifts without a posture model ask of the lower back: the greatest moment at L4/L5 of a straight, leaned trunk.

Rough on purpose: one lean per lift, the load under the shoulders, on the back or held at the chest. The numbers of
this file are guesses of usual technique (calibration), good to compare an athlete's own weeks, not lifts.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from analysis.core.body import constants as c
from analysis.core.body.body import Body, arm_lump, by_sex, trunk_lumps
from analysis.core.pull.moments import Line
from analysis.core.records.plain import UnknownKey
from athletes.schema.units import GRAVITY

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Hinge:
    """Lowest trunk angle above the horizontal (rad), place of the load / trunk above the hip, arms at the load."""

    trunk_rad: float
    load_place: float
    words: str


HINGES = {
    "romanian": Hinge(math.radians(15.0), 1.0, "bar hanging from the shoulders, trunk 15 degrees above level"),
    "good-morning": Hinge(math.radians(20.0), 0.96, "bar on the back, trunk 20 degrees above level"),
    "row": Hinge(math.radians(30.0), 1.0, "bar hanging from the shoulders, trunk 30 degrees above level"),
    "back-raise": Hinge(0.0, 0.75, "load held at the chest, trunk level"),
}


def hinge_moment(body: Body, lift: str) -> Line:
    """Greatest moment at L4/L5 as a line in the load: a (N m per kg), b (N m), shapes (athletes,).

    M = g cos(trunk) L [(load + arms)(place - l) + sum over trunk and head above L4/L5 of mass (at - l)], L the trunk's
    length and l the place of L4/L5 on it. Quasi-static, straight trunk. UnknownKey for another lift.
    """
    if lift not in HINGES:
        raise UnknownKey("lift", f"{lift!r} is none of {', '.join(HINGES)}")
    hinge = HINGES[lift]
    lever = GRAVITY * math.cos(hinge.trunk_rad) * body.trunk
    reach = hinge.load_place - c.L4L5
    above = [by_sex(body, lambda sex, i=i: _first_moment(sex, i)) for i in (1, 2)]  # type: ignore[misc]
    arms = by_sex(body, lambda sex: arm_lump(sex).mass) * reach
    own = body.mass * lever * (arms + above[0] + above[1])
    return Line(np.asarray(lever * reach), np.asarray(own))


def _first_moment(sex: str, index: int) -> float:
    """Mass share of a trunk lump times its distance above L4/L5, in trunk lengths."""
    lump = trunk_lumps(sex)[index]
    return lump.mass * (lump.place - c.L4L5)
