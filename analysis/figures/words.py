"""Days, loads and spans as figures write them."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from analysis.figures.curves import Units
from analysis.figures.theme import INK, SHEET

# hatched ink, told apart in black and white too: from open to solid
HATCHES = ("", ".", "/", "x", "solid")
PLACE_WORDS = {
    "floor": "floor",
    "mid-shin": "mid-shin",
    "below-knee": "just below the knee",
    "at-knee": "at the knee",
    "mid-thigh": "mid-thigh",
    "lockout": "lockout",
    "": "not noted",
}


LEGEND_ABOVE = {"orientation": "h", "x": 0, "y": 1.02, "yanchor": "bottom"}  # clear of turned tick labels on phones


def day_words(day: date) -> str:
    """ "3 Mar 2026"."""
    return f"{day:%-d %b %Y}"


def load_words(kg: float, units: Units) -> str:
    """A load without decimals, with its unit."""
    return f"{units.of(kg):.0f} {units.name}"


def lifted_words(kg: float, units: Units) -> str:
    """A load that stood on the bar, to the half unit, so that no plate is rounded away: "187.5 kg"."""
    return f"{round(2 * units.of(kg)) / 2:g} {units.name}"


def span_words(low_kg: float, high_kg: float, units: Units) -> str:
    """ "182–196 kg"; one number where the rounded ends are the same."""
    low, high = f"{units.of(low_kg):.0f}", f"{units.of(high_kg):.0f}"
    return f"{low}–{high} {units.name}" if low != high else f"{low} {units.name}"


def percent(share: float) -> str:
    """Whole percent of a share."""
    return f"{100.0 * share:.0f} %"


def style_words(style: str) -> str:
    """A style as it is said; an empty one is not noted."""
    return style.replace("-", " ") or "style not noted"


def period_words(begins: date, step: str) -> str:
    """A period by its begin: the week's Monday, the month, the quarter or the year."""
    if step == "quarter":
        return f"{begins.year}, quarter {(begins.month + 2) // 3}"
    return {"week": f"week of {day_words(begins)}", "month": f"{begins:%b %Y}", "year": f"{begins:%Y}"}[step]


def hatched(shape: str) -> Mapping[str, Any]:
    """A bar's marker in ink: a hatch, open ("") or solid."""
    if shape == "solid":
        return {"color": INK, "line": {"color": INK, "width": 1}}
    marker: dict[str, Any] = {"color": SHEET, "line": {"color": INK, "width": 1}}
    if shape:
        marker["pattern"] = {"shape": shape, "fgcolor": INK, "bgcolor": SHEET, "size": 6, "solidity": 0.35}
    return marker
