"""Bodies as arrays: link lengths and the masses that hang on them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields
from typing import Any, cast

import numpy as np
import numpy.typing as npt

from analysis.core.body.constants import L4L5, SPINAL_JOINT
from analysis.core.records.plain import ImpossibleBody

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Segment:
    """de Leva 1996, Table 4: mass / body mass, centre of mass / length from the first end, radius of gyration
    about the transverse axis / length, mean length in m."""

    mass: float
    centre: float
    radius: float
    length: float


# de Leva 1996, J Biomech 29:1223-1230, Table 4; ends: VERT-CERV, SUPR-XYPH, XYPH-OMPH, OMPH-MIDH, SJC-EJC, EJC-WJC,
# WJC-MET3, HJC-KJC, KJC-AJC, HEEL-TTIP
DE_LEVA: dict[str, dict[str, Segment]] = {
    "m": {
        "head": Segment(0.0694, 0.5002, 0.315, 0.2429),
        "upper trunk": Segment(0.1596, 0.2999, 0.454, 0.1707),
        "middle trunk": Segment(0.1633, 0.4502, 0.383, 0.2155),
        "lower trunk": Segment(0.1117, 0.6115, 0.551, 0.1457),
        "upper arm": Segment(0.0271, 0.5772, 0.269, 0.2817),
        "forearm": Segment(0.0162, 0.4574, 0.265, 0.2689),
        "hand": Segment(0.0061, 0.7900, 0.513, 0.0862),
        "thigh": Segment(0.1416, 0.4095, 0.329, 0.4222),
        "shank": Segment(0.0433, 0.4395, 0.246, 0.4403),
        "foot": Segment(0.0137, 0.4415, 0.245, 0.2581),
    },
    "f": {
        "head": Segment(0.0668, 0.4841, 0.295, 0.2437),
        "upper trunk": Segment(0.1545, 0.2077, 0.502, 0.1425),
        "middle trunk": Segment(0.1465, 0.4512, 0.354, 0.2053),
        "lower trunk": Segment(0.1247, 0.4920, 0.402, 0.1815),
        "upper arm": Segment(0.0255, 0.5754, 0.260, 0.2751),
        "forearm": Segment(0.0138, 0.4559, 0.257, 0.2643),
        "hand": Segment(0.0056, 0.7474, 0.454, 0.0780),
        "thigh": Segment(0.1478, 0.3612, 0.364, 0.3685),
        "shank": Segment(0.0481, 0.4352, 0.263, 0.4386),
        "foot": Segment(0.0129, 0.4014, 0.279, 0.2283),
    },
}
MID_SHOULDER_TO_MID_HIP = {"m": 0.5155, "f": 0.4979}  # m, the same table, ends MIDS-MIDH
CERVICALE_TO_MID_HIP = {"m": 0.6033, "f": 0.6148}  # m, the same table, ends CERV-MIDH
LINK_KEYS = ("ankle", "shank", "thigh", "trunk", "arm", "foot", "hip_spacing", "shoulder_spacing")


@dataclass(frozen=True, slots=True)
class Body:
    """Bodies as arrays of one shape: link lengths in m, mass in kg, `male` picks the mass table.

    ankle = height of the ankle joint above the sole of the foot; trunk = hip centre to shoulder centre; arm =
    shoulder centre to the middle of the closed fist; spacings are between the joint centres of the two sides.
    """

    male: npt.NDArray[np.bool_]
    mass: FloatArray
    ankle: FloatArray
    shank: FloatArray
    thigh: FloatArray
    trunk: FloatArray
    arm: FloatArray
    foot: FloatArray
    hip_spacing: FloatArray
    shoulder_spacing: FloatArray

    def mapped(self, change: Callable[[npt.NDArray[Any]], npt.NDArray[Any]]) -> Body:
        """The same bodies with `change` applied to every array (an index, a reshape)."""
        return Body(**{f.name: change(getattr(self, f.name)) for f in fields(self)})

    def rows(self, rows: slice) -> Body:
        """Some of the bodies, along the first axis."""
        return self.mapped(lambda array: array[rows])

    def __len__(self) -> int:
        return int(self.mass.shape[0])


def body_from_links(sex: str, mass: float, links: dict[str, float]) -> Body:
    """One body (arrays of shape (1,)) from its link lengths in m; ImpossibleBody names a bad one."""
    for key in LINK_KEYS:
        if not (np.isfinite(links[key]) and links[key] > 0.0):
            raise ImpossibleBody(key, f"a length of {links[key]:.3f} m cannot be")
    if not (np.isfinite(mass) and mass > 0.0):
        raise ImpossibleBody("mass", f"a body mass of {mass:.1f} kg cannot be")
    arrays = {key: np.array([links[key]]) for key in LINK_KEYS}
    return Body(male=np.array([sex == "m"]), mass=np.array([mass]), **arrays)


def joined(bodies: list[Body]) -> Body:
    """Several bodies as one, along the first axis."""
    return Body(**{f.name: np.concatenate([getattr(body, f.name) for body in bodies]) for f in fields(Body)})


@dataclass(frozen=True, slots=True)
class Lump:
    """Part of the trunk and head as one point: mass / body mass, place / trunk length above the hip."""

    mass: float
    place: float


def _cut(lump_span: tuple[float, float], whole: Lump, at: float) -> tuple[Lump, Lump]:
    """The lower and upper part of a piece of trunk cut at `at`; mass and first moment are kept."""
    low, high = lump_span
    share = (high - at) / (high - low)
    upper = Lump(whole.mass * share, 0.5 * (at + high))
    lower_mass = whole.mass - upper.mass
    lower = Lump(lower_mass, (whole.mass * whole.place - upper.mass * upper.place) / lower_mass)
    return lower, upper


def _merged(lumps: list[Lump]) -> Lump:
    mass = sum(lump.mass for lump in lumps)
    return Lump(mass, sum(lump.mass * lump.place for lump in lumps) / mass)


def trunk_lumps(sex: str) -> tuple[Lump, Lump, Lump]:
    """Trunk and head as three points: below L4/L5, from there to the spinal joint, and above it (de Leva 1996).

    The head is carried on the upper trunk's line. A piece that a joint cuts is taken as even along its length.
    """
    table, unit = DE_LEVA[sex], MID_SHOULDER_TO_MID_HIP[sex]
    lower, middle, upper, head = (table[key] for key in ("lower trunk", "middle trunk", "upper trunk", "head"))
    navel = lower.length / unit
    xiphion = (lower.length + middle.length) / unit
    top = xiphion + upper.length / unit
    lower_lump = Lump(lower.mass, navel * (1.0 - lower.centre))
    middle_lump = Lump(middle.mass, xiphion - middle.centre * (xiphion - navel))
    upper_lump = Lump(upper.mass, top - upper.centre * (top - xiphion))
    head_lump = Lump(head.mass, (CERVICALE_TO_MID_HIP[sex] + head.length * (1.0 - head.centre)) / unit)
    pelvis, lumbar = _cut((0.0, navel), lower_lump, L4L5)
    belly, chest = _cut((navel, xiphion), middle_lump, SPINAL_JOINT)
    return pelvis, _merged([lumbar, belly]), _merged([chest, upper_lump, head_lump])


def head_place(sex: str) -> float:
    """Centre of the head / trunk length above the hip, along the upper trunk (de Leva 1996)."""
    head = DE_LEVA[sex]["head"]
    return (CERVICALE_TO_MID_HIP[sex] + head.length * (1.0 - head.centre)) / MID_SHOULDER_TO_MID_HIP[sex]


def arm_lump(sex: str) -> Lump:
    """Both arms as one point: mass / body mass, place / arm length from the shoulder (hand closed on the bar)."""
    upper, fore, hand = (DE_LEVA[sex][key] for key in ("upper arm", "forearm", "hand"))
    grip = hand.centre * hand.length
    length = upper.length + fore.length + grip
    moment = (
        upper.mass * upper.centre * upper.length
        + fore.mass * (upper.length + fore.centre * fore.length)
        + hand.mass * length
    )
    mass = upper.mass + fore.mass + hand.mass
    return Lump(2.0 * mass, moment / mass / length)


def by_sex(body: Body, value: Callable[[str], float]) -> FloatArray:
    """`value("m")` or `value("f")` for each body, in the bodies' shape."""
    return cast(FloatArray, np.where(body.male, value("m"), value("f")))
