"""Showing kg and cm in the units a person reads; storage never changes."""

from __future__ import annotations

KG_PER_LB = 0.45359237  # exact: International Yard and Pound Agreement, 1959
CM_PER_INCH = 2.54  # exact: the same agreement


def plain(number: float, decimals: int) -> str:
    """A number with at most that many decimals and no trailing zeros."""
    text = f"{number:.{decimals}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def show_weight(kg: float, unit: str) -> str:
    """A mass with its unit, to 0.5 kg or 1 lb as bars are loaded."""
    if unit == "lb":
        return f"{plain(kg / KG_PER_LB, 0)} lb"
    return f"{plain(round(kg * 2) / 2, 1)} kg"


def show_length(cm: float, unit: str) -> str:
    """A length with its unit, to 0.1 cm or 0.1 in."""
    if unit == "in":
        return f"{plain(cm / CM_PER_INCH, 1)} in"
    return f"{plain(cm, 1)} cm"
