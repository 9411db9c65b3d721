"""Seconds from floor to lockout at one load over time, by style and share of the best; effort against load."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import Any

import plotly.graph_objects as go
from plotly.subplots import make_subplots

from analysis.core.records.training import BestSeries, EffortMark, PullTime, TimedLoad
from analysis.figures.card import FigureCard, Table, card, card_of
from analysis.figures.curves import Units
from analysis.figures.theme import SHEET, STYLE_MARKER, TEMPLATE, axis, layout, style_colour, style_line
from analysis.figures.words import LEGEND_ABOVE, day_words, load_words, percent, style_words

TABLE_ROWS = 15  # a load, the latest
RECENT = timedelta(weeks=8)  # shown large against what was before
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


def effort_card(series: Sequence[BestSeries], as_of: date, units: Units) -> FigureCard | None:
    """RPE, and pull time where it was noted, against the load; the last eight weeks large, what was before small."""
    noted = [s for s in series if s.efforts]
    if not noted:
        return None
    timed = any(e.seconds is not None for s in noted for e in s.efforts)
    figure = make_subplots(rows=2 if timed else 1, cols=1, shared_xaxes=True, vertical_spacing=0.08)
    for row, name in enumerate(("rpe", "seconds")[: 1 + timed], start=1):
        for one in noted:
            for trace in _effort_traces(one, name, as_of, units):
                figure.add_trace(trace, row=row, col=1)
    figure.update_layout(
        template=TEMPLATE, height=300, showlegend=False, hovermode="closest", margin={"b": 44, "l": 48}
    )
    figure.update_yaxes(title_text="RPE", row=1, col=1)
    figure.update_xaxes(title_text=f"load, {units.name}", row=2 if timed else 1, col=1)
    if timed:
        figure.update_yaxes(title_text="seconds", rangemode="tozero", row=2, col=1)
    rows = tuple(_effort_row(s, e, units) for s in noted for e in s.efforts[: -TABLE_ROWS - 1 : -1])
    table = Table(("Day", "Style", f"Load, {units.name}", "Reps", "RPE", "Seconds"), rows)
    caption = "Sets of 1–3 reps. Large marks: last eight weeks. Further right at the same RPE is stronger."
    return card_of("effort", "Load against effort and pull time", caption, table, figure)


def _effort_traces(one: BestSeries, value: str, as_of: date, units: Units) -> list[Any]:
    colour = style_colour(one.style)
    fill = colour if one.style in ("conventional", "") else SHEET
    name = style_words(one.style) if one.style else one.label.partition(",")[0]
    found = []
    for lately in (False, True):
        marks = [e for e in one.efforts if getattr(e, value) is not None and (e.day > as_of - RECENT) is lately]
        look = {"symbol": STYLE_MARKER.get(one.style, "circle"), "size": 10 if lately else 5, "color": fill}
        found.append(
            go.Scatter(
                x=[round(units.of(e.load_kg), 1) for e in marks], y=[round(getattr(e, value), 1) for e in marks],
                mode="markers", name=name, marker=look | {"line": {"color": colour, "width": 1.5}},
                text=[f"{units.of(e.load_kg):g} {units.name} × {e.reps}, {day_words(e.day)}" for e in marks],
                hovertemplate="%{text}: " + ("RPE %{y}" if value == "rpe" else "%{y} s"),
            )
        )  # fmt: skip
    return found


def _effort_row(one: BestSeries, mark: EffortMark, units: Units) -> tuple[str, ...]:
    said = ("–" if value is None else f"{value:.1f}" for value in (mark.rpe, mark.seconds))
    return (
        day_words(mark.day), style_words(one.style) if one.style else one.label, f"{units.of(mark.load_kg):.1f}",
        str(mark.reps), *said,
    )  # fmt: skip
