"""Bests by start height: blocks above the floor start, deficits below it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from analysis.core.records.training import StartSeries
from analysis.figures.card import FigureCard, Table, card
from analysis.figures.curves import Units
from analysis.figures.theme import STYLE_MARKER, axis, layout, style_colour, style_line
from analysis.figures.words import LEGEND_ABOVE, span_words, style_words


def blocks_card(series: Sequence[StartSeries], loads: Units, heights: Units) -> FigureCard:
    """One marker a height with its 80 % range, one line a style."""
    traces = [_trace(one, loads, heights) for one in series]
    rows = tuple(
        (_height(h.height_m, heights), style_words(one.style), f"{loads.of(h.level_kg):.0f}",
         f"{loads.of(h.low_kg):.0f}", f"{loads.of(h.high_kg):.0f}", str(h.sets))
        for one in series for h in one.heights
    )  # fmt: skip
    head = ("Start", "Style", f"Best, {loads.name}", "Low", "High", "Sets")
    caption = " ".join(_words(one, loads, heights) for one in series)
    frame = layout(
        axis(f"Block (+) or deficit (-), {heights.name}"),
        axis(f"Running best, {loads.name}"),
        legend=LEGEND_ABOVE,
    )
    return card("start-heights", "Best by start height", caption, Table(head, rows), traces, frame)


def _height(metres: float, units: Units) -> str:
    return "floor" if not metres else f"{'block' if metres > 0 else 'deficit'} {units.of(abs(metres)):.0f} {units.name}"


def _trace(one: StartSeries, loads: Units, heights: Units) -> dict[str, Any]:
    return {
        "type": "scatter",
        "mode": "lines+markers",
        "name": style_words(one.style),
        "x": [round(heights.of(h.height_m), 1) for h in one.heights],
        "y": [round(loads.of(h.level_kg), 1) for h in one.heights],
        "error_y": {
            "type": "data",
            "symmetric": False,
            "array": [round(loads.of(h.high_kg - h.level_kg), 1) for h in one.heights],
            "arrayminus": [round(loads.of(h.level_kg - h.low_kg), 1) for h in one.heights],
            "color": style_colour(one.style),
        },
        "line": style_line(one.style, 1.5),
        "marker": {"symbol": STYLE_MARKER[one.style], "size": 10, "color": style_colour(one.style)},
    }


def _words(one: StartSeries, loads: Units, heights: Units) -> str:
    parts = [f"{_height(h.height_m, heights)} {span_words(h.low_kg, h.high_kg, loads)}" for h in one.heights]
    return f"{style_words(one.style).capitalize()}: {'; '.join(parts)}."
