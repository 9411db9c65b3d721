"""Body-mass scoring, weight classes and ages by the published formulas; every coefficient set names its source."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp

from analysis.core.records.plain import CoreError, UnknownKey

MEMORY = "from memory: confirm against the federation's own table"
GL_LEAST_MASS_KG = 35.0  # below this the points are 0; from memory


class NoScore(CoreError):
    """A total or body mass for which a formula gives no points."""


@dataclass(frozen=True, slots=True)
class Coefficients:
    """The numbers of a scoring formula for one category, with their source."""

    values: tuple[float, ...]
    source: str


# IPF GL points, in force 1 May 2020 (Kopayev, Onyshchenko and Stetsenko): (sex, kit, event) -> A, B, C
IPF_GL = {
    ("m", "equipped", "powerlifting"): Coefficients((1236.25115, 1449.21864, 0.01644), MEMORY),
    ("m", "classic", "powerlifting"): Coefficients((1199.72839, 1025.18162, 0.00921), MEMORY),
    ("m", "equipped", "bench"): Coefficients((381.22073, 733.79378, 0.02398), MEMORY),
    ("m", "classic", "bench"): Coefficients((320.98041, 281.40258, 0.01008), MEMORY),
    ("f", "equipped", "powerlifting"): Coefficients((758.63878, 949.31382, 0.02435), MEMORY),
    ("f", "classic", "powerlifting"): Coefficients((610.32796, 1045.59282, 0.03048), MEMORY),
    ("f", "equipped", "bench"): Coefficients((221.82209, 357.00377, 0.02937), MEMORY),
    ("f", "classic", "bench"): Coefficients((142.40398, 442.52671, 0.04724), MEMORY),
}

# DOTS (BVDK 2019): A x^4 + B x^3 + C x^2 + D x + E, highest power first
DOTS = {
    "m": Coefficients((-0.0000010930, 0.0007391293, -0.1918759221, 24.0900756, -307.75076), MEMORY),
    "f": Coefficients((-0.0000010706, 0.0005158568, -0.1126655495, 13.6175032, -57.96288), MEMORY),
}
DOTS_MASS_KG = {"m": (40.0, 210.0), "f": (40.0, 150.0)}  # body mass is held inside; from memory

# Wilks 1994: a + b x + ... + f x^5, lowest power first
WILKS = {
    "m": Coefficients(
        (-216.0475144, 16.2606339, -0.002388645, -0.00113732, 7.01863e-6, -1.291e-8),
        "Wilks 1994, as printed in public encyclopaedias",
    ),
    "f": Coefficients(
        (594.31747775582, -27.23842536447, 0.82112226871, -0.00930733913, 4.731582e-5, -9.054e-8),
        "Wilks 1994, as printed in public encyclopaedias",
    ),
}

# Upper limits of the IPF classes, kg; the first of each is for sub-juniors and juniors only
CLASSES_M = (53.0, 59.0, 66.0, 74.0, 83.0, 93.0, 105.0, 120.0)  # since 2011
CLASSES_F = (43.0, 47.0, 52.0, 57.0, 63.0, 69.0, 76.0, 84.0)  # since 2021, from memory
CLASSES_F_2011 = (43.0, 47.0, 52.0, 57.0, 63.0, 72.0, 84.0)  # 2011 to 2020

FOSTER = dict(zip(range(14, 24), (1.23, 1.18, 1.13, 1.08, 1.06, 1.04, 1.03, 1.02, 1.01, 1.00), strict=True))
# fmt: off
MCCULLOCH = dict(
    zip(
        range(40, 81),
        (
            1.000, 1.010, 1.020, 1.031, 1.043, 1.055, 1.068, 1.082, 1.097, 1.113,
            1.130, 1.147, 1.165, 1.184, 1.204, 1.225, 1.246, 1.268, 1.291, 1.315,
            1.340, 1.366, 1.393, 1.421, 1.450, 1.480, 1.511, 1.543, 1.576, 1.610,
            1.645, 1.681, 1.718, 1.756, 1.795, 1.835, 1.876, 1.918, 1.961, 2.005,
            2.050,
        ),
        strict=True,
    )
)
# fmt: on


def ipf_gl(total_kg: float, body_mass_kg: float, sex: str, kit: str = "classic", event: str = "powerlifting") -> float:
    """IPF GL points: 100 T / (A - B exp(-C m)); 0 below 35 kg. There is no deadlift-only set of coefficients."""
    key = (sex, kit, event)
    if key not in IPF_GL:
        raise UnknownKey("category", f"there are no IPF GL coefficients for {', '.join(key)}")
    _check(total_kg, body_mass_kg)
    if body_mass_kg < GL_LEAST_MASS_KG:
        return 0.0
    a, b, c = IPF_GL[key].values
    return 100.0 * total_kg / (a - b * exp(-c * body_mass_kg))


def dots(total_kg: float, body_mass_kg: float, sex: str) -> float:
    """DOTS points: 500 T / quartic of body mass, body mass held inside the range of the fit."""
    _check(total_kg, body_mass_kg)
    low, high = DOTS_MASS_KG[_sex(sex)]
    mass = min(max(body_mass_kg, low), high)
    return 500.0 * total_kg / _polynomial(tuple(reversed(DOTS[sex].values)), mass)


def wilks(total_kg: float, body_mass_kg: float, sex: str) -> float:
    """Wilks points of 1994: 500 T / quintic of body mass; kept for old results."""
    _check(total_kg, body_mass_kg)
    return 500.0 * total_kg / _polynomial(WILKS[_sex(sex)].values, body_mass_kg)


def _polynomial(lowest_first: Sequence[float], x: float) -> float:
    return sum(c * x**power for power, c in enumerate(lowest_first))


def _sex(sex: str) -> str:
    if sex not in ("m", "f"):
        raise UnknownKey("sex", "the published formulas know m and f only")
    return sex


def _check(total_kg: float, body_mass_kg: float) -> None:
    if total_kg < 0 or body_mass_kg <= 0:
        raise NoScore("points", f"{total_kg:g} kg at {body_mass_kg:g} kg body mass gives no points")


def weight_class(body_mass_kg: float, sex: str, *, junior: bool = False, year: int = 2021) -> str:
    """The IPF class of a body mass: "83", or "120+" above the last limit; the lightest class is for juniors."""
    limits = CLASSES_M if _sex(sex) == "m" else CLASSES_F if year >= 2021 else CLASSES_F_2011
    open_limits = limits if junior else limits[1:]
    for limit in open_limits:
        if body_mass_kg <= limit:
            return f"{limit:g}"
    return f"{limits[-1]:g}+"


def age_group(birth_year: int, meet_year: int) -> str:
    """Sub-junior, junior, open or masters by calendar year; IPF rule book 2007, oldest group from memory."""
    age = meet_year - birth_year
    if age < 14:
        return "under age"
    groups = ((18, "sub-junior"), (23, "junior"), (39, "open"), (49, "masters 1"), (59, "masters 2"), (69, "masters 3"))
    return next((name for oldest, name in groups if age <= oldest), "masters 4")


def age_coefficient(age: int) -> float:
    """Foster (14 to 23) and McCulloch (40 to 80) age coefficients, else 1; all values from memory."""
    return FOSTER.get(age) or MCCULLOCH.get(min(age, 80)) or 1.0
