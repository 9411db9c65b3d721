"""How near each strength is to its limit along the pull, at the predicted best."""

from __future__ import annotations

from typing import Any

from analysis.core.records.weak_link import StyleReading
from analysis.figures.card import FigureCard, Table, card
from analysis.figures.theme import INK, SOFT, axis, layout

LOOK = {"hips": ("solid", "circle"), "legs": ("8px,4px", "square"), "back": ("2px,4px", "diamond")}


def utilisation_card(reading: StyleReading) -> FigureCard:
    """Share of the limit of hips, legs and back over the height of the hands, ink lines told apart by pattern."""
    curve = reading.curve
    heights = [100.0 * h for h in curve.height_m]
    lines = {"hips": curve.hips, "legs": curve.legs, "back": curve.back}
    traces = [_line(name, heights, values) for name, values in lines.items()]
    picked = range(0, len(heights), max(len(heights) // 10, 1))
    rows = tuple((f"{heights[i]:.0f}", *(f"{100 * lines[n][i]:.0f}" for n in lines)) for i in picked)
    caption = " ".join(_peak(name, heights, values) for name, values in lines.items())
    table = Table(("Hands above the floor, cm", *(f"{name}, % of limit" for name in lines)), rows)
    frame = layout(axis("Hands above the floor, cm"), axis("% of the limit", range=[0, 108]))
    return card(f"use-{reading.style}", f"Who is near the limit: {reading.label}", caption, table, traces, frame)


def _line(name: str, heights: list[float], values: tuple[float, ...]) -> dict[str, Any]:
    dash, marker = LOOK[name]
    return {
        "type": "scatter",
        "mode": "lines",
        "name": name,
        "x": heights,
        "y": [100 * v for v in values],
        "line": {"color": INK if name == "back" else SOFT, "dash": dash, "width": 2.5},
        "marker": {"symbol": marker},
    }


def _peak(name: str, heights: list[float], values: tuple[float, ...]) -> str:
    at = max(range(len(values)), key=values.__getitem__)
    return f"{name.capitalize()}: at most {100 * values[at]:.0f} % of the limit, at {heights[at]:.0f} cm."
