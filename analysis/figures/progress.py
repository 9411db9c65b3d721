"""The running best of each style on one footing, with its band and the real singles."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from datetime import date, timedelta
from typing import Any

from analysis.core.records.training import BestSeries, Footing
from analysis.figures.card import FigureCard, Table, card
from analysis.figures.curves import Units
from analysis.figures.theme import STYLE_MARKER, axis, layout, style_colour, style_line
from analysis.figures.words import LEGEND_ABOVE, day_words, lifted_words, span_words, style_words

BAND = "rgba(128,128,128,0.16)"
TWELVE_WEEKS = timedelta(weeks=12)
TABLE_ROWS = 24  # a style


def progress_card(footing: Footing, since: date | None, as_of: date, units: Units) -> FigureCard:
    """Level, 80 % band and real singles of every style that was trained on this footing, from a day on."""
    traces: list[dict[str, Any]] = []
    for series in footing.series:
        traces += _traces(series, _kept(series, since), since, units)
    rows = tuple(row for series in footing.series for row in _rows(series, _kept(series, since), units))
    head = ("Day", "Style", f"Running best, {units.name}", "8 in 10, low", "8 in 10, high")
    caption = " ".join(series_words(series, as_of, units) for series in footing.series)
    thin = max((s.sessions - len(s.days) for s in footing.series), default=0)
    if thin > 0:
        caption += " Long series are drawn with some days left out; every day counts in the level."
    frame = layout(axis("", type="date"), axis(f"Running best, {units.name}"), height=400, legend=LEGEND_ABOVE)
    return card("progress", f"Running best: {footing.label}", caption, Table(head, rows), traces, frame)


def _kept(series: BestSeries, since: date | None) -> range:
    """Places of the series from one day before `since` on, so that a line enters from the left."""
    first = 0 if since is None else max(bisect_right(series.days, since) - 1, 0)
    return range(first, len(series.days))


def _traces(series: BestSeries, kept: range, since: date | None, units: Units) -> list[dict[str, Any]]:
    name, days = _name(series), [series.days[i].isoformat() for i in kept]
    low, level, high = (
        [round(units.of(values[i]), 1) for i in kept] for values in (series.low_kg, series.level_kg, series.high_kg)
    )
    edge = style_line(series.style, 0.75)
    singles = [s for s in series.singles if since is None or s.day >= since]
    common = {"type": "scatter", "mode": "lines", "x": days}
    band = {"line": edge, "showlegend": False, "hoverinfo": "skip", "legendgroup": name}
    drawn: list[dict[str, Any]] = [
        common | band | {"y": low},
        common | band | {"y": high, "fill": "tonexty", "fillcolor": BAND},
        common | {"y": level, "name": name, "line": style_line(series.style), "legendgroup": name},
    ]
    return [*drawn, _singles(series, singles, units)] if singles else drawn


def _singles(series: BestSeries, singles: Sequence[Any], units: Units) -> dict[str, Any]:
    return {
        "type": "scatter",
        "mode": "markers",
        "name": f"{_name(series)}, real single",
        "x": [s.day.isoformat() for s in singles],
        "y": [round(units.of(s.load_kg), 1) for s in singles],
        "legendgroup": _name(series),
        "marker": {
            "symbol": STYLE_MARKER.get(series.style, "circle"),
            "size": 9,
            "color": style_colour(series.style),
        },
    }


def _name(series: BestSeries) -> str:
    return style_words(series.style) if series.style else series.label.partition(",")[0]


def _rows(series: BestSeries, kept: range, units: Units) -> list[tuple[str, ...]]:
    """The latest days of one style, the newest first."""
    places = list(kept)[-TABLE_ROWS:][::-1]
    columns = (series.level_kg, series.low_kg, series.high_kg)
    return [
        (day_words(series.days[i]), _name(series), *(f"{units.of(values[i]):.0f}" for values in columns))
        for i in places
    ]


def now_words(series: BestSeries, as_of: date, units: Units) -> str:
    """The range now and twelve weeks ago in one sentence."""
    said = f"{_name(series).capitalize()}: {span_words(series.low_kg[-1], series.high_kg[-1], units)} (8 in 10) now"
    before = bisect_right(series.days, as_of - TWELVE_WEEKS) - 1
    if before < 0:
        return f"{said}."
    return f"{said}, {span_words(series.low_kg[before], series.high_kg[before], units)} twelve weeks ago."


def series_words(series: BestSeries, as_of: date, units: Units) -> str:
    """Now and twelve weeks ago, what it rests on, and the heaviest real single."""
    said = f"{now_words(series, as_of, units)} It rests on {series.sets} sets of {series.sessions} days"
    said += f"; {series.unused} lighter ones or without effort are not used." if series.unused else "."
    top = max(series.singles, key=lambda s: s.load_kg, default=None)
    if top is not None:
        said += f" Heaviest real single {lifted_words(top.load_kg, units)} on {day_words(top.day)}."
    return said
