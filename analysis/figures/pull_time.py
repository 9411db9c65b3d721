"""Seconds from floor to lockout: at one load over time, and by style and share of the best."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from analysis.core.records.training import PullTime, TimedLoad
from analysis.figures.card import FigureCard, Table, card
from analysis.figures.curves import Units
from analysis.figures.theme import STYLE_MARKER, axis, layout, style_colour, style_line
from analysis.figures.words import LEGEND_ABOVE, day_words, load_words, percent, style_words

TABLE_ROWS = 15  # a load, the latest
OPEN = ("", "-open", "-dot", "-open-dot")  # loads of one style are told apart by how its marker is filled


def timed_card(loads: Sequence[TimedLoad], units: Units) -> FigureCard:
    """Quickest rep of each day at each load; lower is faster."""
    traces = [_trace(one, i, units) for i, one in enumerate(loads)]
    rows = tuple(
        (day_words(day), _name(one, units), f"{seconds:.1f}")
        for one in loads
        for day, seconds in list(zip(one.days, one.seconds, strict=True))[: -TABLE_ROWS - 1 : -1]
    )
    frame = layout(axis("", type="date"), axis("Seconds a rep", rangemode="tozero"), legend=LEGEND_ABOVE)
    caption = " ".join(_words(one, units) for one in loads)
    table = Table(("Day", "Pull", "Seconds"), rows)
    return card("pull-time", "Pull time at the same load", caption, table, traces, frame)


def _name(one: TimedLoad, units: Units) -> str:
    bar = "" if one.bar in ("stiff", "unknown") else f", {one.bar.replace('-', ' ')} bar"
    straps = " with straps" if one.straps else ""
    return f"{style_words(one.style)}{bar}{straps}, about {load_words(one.load_kg, units)}"


def _trace(one: TimedLoad, place: int, units: Units) -> dict[str, Any]:
    symbol = STYLE_MARKER.get(one.style, "circle") + OPEN[place % len(OPEN)]
    return {
        "type": "scatter",
        "mode": "lines+markers",
        "name": _name(one, units),
        "x": [day.isoformat() for day in one.days],
        "y": [round(seconds, 2) for seconds in one.seconds],
        "line": style_line(one.style, 1.5),
        "marker": {"symbol": symbol, "size": 9, "color": style_colour(one.style)},
    }


def _words(one: TimedLoad, units: Units) -> str:
    return (
        f"{_name(one, units).capitalize()}: {one.seconds[-1]:.1f} s on {day_words(one.days[-1])}, "
        f"{one.seconds[0]:.1f} s on {day_words(one.days[0])} ({len(one.days)} days)."
    )


def style_times_card(times: Sequence[PullTime]) -> FigureCard:
    """Median seconds by share of the running best, one marker line a style."""
    styles = sorted({t.style for t in times})
    traces = []
    for style in styles:
        mine = [t for t in times if t.style == style]
        traces.append({
            "type": "scatter",
            "mode": "lines+markers",
            "name": style_words(style),
            "x": [_band(t) for t in mine],
            "y": [round(t.seconds, 2) for t in mine],
            "line": style_line(style, 1.5),
            "marker": {"symbol": STYLE_MARKER.get(style, "circle"), "size": 10, "color": style_colour(style)},
        })  # fmt: skip
    rows = tuple((style_words(t.style), _band(t), f"{t.seconds:.1f}", str(t.sets)) for t in times)
    bands = sorted({(t.low_share, _band(t)) for t in times})
    frame = layout(
        axis("Share of the running best", type="category", categoryorder="array", categoryarray=[b for _, b in bands]),
        axis("Median seconds", rangemode="tozero"),
        legend=LEGEND_ABOVE,
    )
    caption = " ".join(_time_words(t) for t in times)
    table = Table(("Style", "Share of the running best", "Median seconds", "Sets"), rows)
    return card("style-times", "Pull time by style", caption, table, traces, frame)


def _time_words(t: PullTime) -> str:
    sets = f"{t.sets} set{'s' if t.sets != 1 else ''}"
    return f"{style_words(t.style).capitalize()} at {_band(t)}: {t.seconds:.1f} s, {sets}."


def _band(time: PullTime) -> str:
    return f"{100 * time.low_share:.0f} to {percent(min(time.high_share, 1.0))}"
