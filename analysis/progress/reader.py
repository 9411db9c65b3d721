"""The units that a reader's numbers are written in."""

from __future__ import annotations

from analysis.core.records.units import CM_PER_INCH, KG_PER_LB
from analysis.figures.curves import Units
from athletes.models import User


def weights(viewer: User) -> Units:
    """The reader's unit of load, from kg."""
    return Units("lb", lambda kg: kg / KG_PER_LB) if viewer.weight_unit == "lb" else Units("kg", lambda kg: kg)


def lengths(viewer: User) -> Units:
    """The reader's unit of height, from m."""
    if viewer.length_unit == "in":
        return Units("in", lambda metres: 100.0 * metres / CM_PER_INCH)
    return Units("cm", lambda metres: 100.0 * metres)
