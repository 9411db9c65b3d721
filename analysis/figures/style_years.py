"""An athlete's styles through the years as one plot, pauses shaded in grey."""

from __future__ import annotations

from typing import Any

from analysis.core.records.terms import STYLE_WORDS
from analysis.core.styles.years import StyleYears
from analysis.figures.card import FigureCard, Table, card
from analysis.figures.theme import STYLE_MARKER, axis, layout, style_colour, style_line
from athletes.schema.units import KG_PER_LB


def style_years_card(years: StyleYears, unit: str = "kg") -> FigureCard:
    """Heaviest pull of each month by style, in the reader's unit."""
    factor = 1.0 if unit == "kg" else 1.0 / KG_PER_LB
    styles = sorted({p.style for p in years.points})
    traces = [_trace(years, style, factor) for style in styles]
    shapes = [_pause(gap.begins.isoformat(), gap.ends.isoformat()) for gap in years.gaps]
    rows = tuple((f"{p.day:%b %Y}", STYLE_WORDS[p.style], f"{p.load_kg * factor:.0f}") for p in years.points)
    caption = (
        f"{', '.join(STYLE_WORDS[style] for style in styles)}: the heaviest pull made from the floor in each month; "
        f"{len(years.gaps)} pause{'' if len(years.gaps) == 1 else 's'} shaded."
    )
    table = Table(("Month", "Style", f"Heaviest made, {unit}"), rows)
    frame = layout(axis("Date", type="date"), axis(f"Heaviest made, {unit}"), shapes=shapes)
    return card("style-years", "Styles through the years", caption, table, traces, frame)


def _trace(years: StyleYears, style: str, factor: float) -> dict[str, Any]:
    points = [p for p in years.points if p.style == style]
    return {
        "type": "scatter",
        "mode": "lines+markers",
        "name": STYLE_WORDS[style],
        "x": [p.day.isoformat() for p in points],
        "y": [p.load_kg * factor for p in points],
        "line": style_line(style, 1.5),
        "marker": {"symbol": STYLE_MARKER.get(style, "circle"), "size": 7, "color": style_colour(style)},
    }


def _pause(begins: str, ends: str) -> dict[str, Any]:
    return {
        "type": "rect",
        "xref": "x",
        "yref": "paper",
        "x0": begins,
        "x1": ends,
        "y0": 0,
        "y1": 1,
        "line": {"width": 0},
        "fillcolor": "rgba(128,128,128,0.2)",
        "layer": "below",
    }
