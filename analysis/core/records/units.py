"""Conversions at the edges: SI and radians inside, kg/lb and cm/in outside, each factor in one place."""

from __future__ import annotations

KG_PER_LB = 0.45359237  # exact: International Yard and Pound Agreement, 1959
CM_PER_INCH = 2.54  # exact: the same agreement
GRAVITY = 9.80665  # m/s^2, standard acceleration of gravity, CGPM 1901


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
