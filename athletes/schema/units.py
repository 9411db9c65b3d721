"""Units of typed and shown amounts with their exact factors; values are SI inside (kg, m, s)."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

KG_PER_LB = 0.45359237  # exact: International Yard and Pound Agreement, 1959
CM_PER_INCH = 2.54  # exact: the same agreement
GRAVITY = 9.80665  # m/s^2, standard acceleration of gravity, CGPM 1901


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit as it is written, its factor to SI and the decimals it is shown with."""

    symbol: str
    si: float
    decimals: int


KG = Unit("kg", 1.0, 1)
LB = Unit("lb", KG_PER_LB, 0)
M = Unit("m", 1.0, 2)
CM = Unit("cm", 0.01, 1)
INCH = Unit("in", CM_PER_INCH / 100.0, 1)
DEGREES = Unit("degrees", pi / 180.0, 0)
SECONDS = Unit("s", 1.0, 1)
METRES_PER_SECOND = Unit("m/s", 1.0, 2)


def kg_from_lb(pounds: float) -> float:
    """Mass in kg of a mass in pounds."""
    return pounds * KG_PER_LB


def lb_from_kg(kilograms: float) -> float:
    """Mass in pounds of a mass in kg."""
    return kilograms / KG_PER_LB


def cm_from_inch(inches: float) -> float:
    """Length in cm of a length in inches."""
    return inches * CM_PER_INCH


def inch_from_cm(centimetres: float) -> float:
    """Length in inches of a length in cm."""
    return centimetres / CM_PER_INCH


def format_number(number: float, decimals: int) -> str:
    """A number with at most that many decimals and no trailing zeros."""
    text = f"{number:.{decimals}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def show_weight(kg: float, unit: str) -> str:
    """A mass with its unit, rounded to 0.5 kg or 1 lb as bars are loaded."""
    if unit == "lb":
        return f"{format_number(kg / KG_PER_LB, 0)} lb"
    return f"{format_number(round(kg * 2) / 2, 1)} kg"


def show_length(cm: float, unit: str) -> str:
    """A length with its unit, to 0.1 cm or 0.1 in."""
    if unit == "in":
        return f"{format_number(cm / CM_PER_INCH, 1)} in"
    return f"{format_number(cm, 1)} cm"
