"""The log on one time axis: best by style with range, singles and misses; under it the back's hard reps by week."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

import plotly.graph_objects as go
from plotly.subplots import make_subplots

from analysis.core.records.training import BestSeries, Footing, HeavyPull
from analysis.figures.card import FigureCard, Table, card_of
from analysis.figures.curves import Units
from analysis.figures.theme import INK, SHEET, SOFT, STYLE_MARKER, TEMPLATE, style_colour, style_line, tint
from analysis.figures.words import PLACE_WORDS, day_words, hatched, lifted_words, span_words, style_words

TABLE_ROWS = 24  # a style
HEIGHT, HEIGHT_WITH_BACK = 340, 460
ENDS_APART = 0.13  # of the axis, so that two lines of a label at the end of a line stay clear of the next
MOST_EVENTS = 4  # named on the figure, the latest


@dataclass(frozen=True, slots=True)
class Event:
    """A day marked through the figure: a trial's begin or a meet."""

    day: date
    word: str
    title: str


@dataclass(frozen=True, slots=True)
class Weeks:
    """Hard reps of the lower back by week, each with its first day, and the heavy pulls of the same time."""

    begins: tuple[date, ...]
    reps: tuple[float, ...]
    heavy: tuple[HeavyPull, ...]


@dataclass(frozen=True, slots=True)
class Span:
    """The days a figure covers."""

    since: date | None
    as_of: date

    def holds(self, day: date) -> bool:
        """Whether a day is drawn."""
        return self.since is None or day >= self.since


def log_card(footing: Footing, span: Span, units: Units, events: Iterable[Event], weeks: Weeks | None) -> FigureCard:
    """The figure of one footing; without `weeks` the best alone."""
    figure = make_subplots(
        rows=2 if weeks else 1,
        cols=1,
        shared_xaxes=True,
        vertical_spacing=0.06,
        row_heights=[0.72, 0.28] if weeks else [1],
    )
    for series in footing.series:
        for trace in series_traces(series, span, units):
            figure.add_trace(trace, row=1, col=1)
    low, high = reach_of(footing, span, units)
    height = HEIGHT_WITH_BACK if weeks else HEIGHT
    figure.update_layout(
        template=TEMPLATE,
        height=height,
        showlegend=False,
        margin={"r": 100, "b": 36},
        hoversubplots="axis",
        bargap=0.25,
    )
    figure.update_xaxes(type="date", tickformat="%b\n%Y", nticks=5, tickangle=0, range=[*_ends(footing, span)])
    figure.update_yaxes(title_text=units.name, range=[low, high], row=1, col=1)
    for note in end_notes(footing, units, low, high):
        figure.add_annotation(note)
    if weeks:
        add_weeks(figure, weeks, span)
    add_events(figure, [one for one in events if span.holds(one.day) and one.day <= span.as_of])
    rows = tuple(row for series in footing.series for row in _rows(series, span, units))
    head = ("Day", "Style", f"Best, {units.name}", "Low", "High")
    return card_of("progress", "Best by style and back work", caption(footing, span), Table(head, rows), figure)


def series_traces(series: BestSeries, span: Span, units: Units) -> list[Any]:
    """Range, level, singles made and misses of one style; a miss is an open ring in ink."""
    name, kept = name_of(series), _days_within(series, span)
    days = [series.days[i].isoformat() for i in kept]
    low, level, high = (
        [round(units.of(values[i]), 1) for i in kept] for values in (series.low_kg, series.level_kg, series.high_kg)
    )
    common = {"x": days, "mode": "lines", "hoverinfo": "skip", "line": {"width": 0}}
    ranges = [f"{a:.0f}–{b:.0f} {units.name}" for a, b in zip(low, high, strict=True)]
    singles = [s for s in series.singles if span.holds(s.day)]
    misses = [m for m in series.misses if span.holds(m.day)]
    return [
        go.Scatter(**common, y=low),
        go.Scatter(**common, y=high, fill="tonexty", fillcolor=tint(series.style)),
        go.Scatter(
            x=days, y=level, mode="lines", name=name, text=ranges, line=style_line(series.style),
            hovertemplate="%{text}",
        ),
        go.Scatter(
            x=[s.day.isoformat() for s in singles], y=[round(units.of(s.load_kg), 1) for s in singles], mode="markers",
            name=f"{name}, single made", hovertemplate="%{y} " + units.name, marker=made_mark(series.style, 10),
        ),
        go.Scatter(
            x=[m.day.isoformat() for m in misses], y=[round(units.of(m.load_kg), 1) for m in misses], mode="markers",
            name=f"{name}, missed", text=[PLACE_WORDS[m.position] for m in misses],
            hovertemplate="%{y} " + units.name + ", %{text}",
            marker={"symbol": "circle", "size": 11, "color": SHEET, "line": {"color": INK, "width": 2}},
        ),
    ]  # fmt: skip


def made_mark(style: str, size: int) -> dict[str, Any]:
    """The mark of a made lift: filled for conventional, open for the other styles, each with its own shape."""
    colour = style_colour(style)
    open_mark = style not in ("conventional", "")
    fill = SHEET if open_mark else colour
    return {
        "symbol": STYLE_MARKER.get(style, "circle"),
        "size": size,
        "color": fill,
        "line": {"color": colour, "width": 2},
    }


def reach_of(footing: Footing, span: Span, units: Units) -> tuple[float, float]:
    """Lowest and highest load to show, in the reader's unit, with a margin."""
    values = [v for s in footing.series for i in _days_within(s, span) for v in (s.low_kg[i], s.high_kg[i])]
    for one in footing.series:
        values += [single.load_kg for single in one.singles if span.holds(single.day)]
        values += [miss.load_kg for miss in one.misses if span.holds(miss.day)]
    low, high = units.of(min(values)), units.of(max(values))
    margin = max(0.06 * (high - low), 2.0)
    return round(low - margin, 1), round(high + margin, 1)


def end_notes(footing: Footing, units: Units, low: float, high: float) -> list[dict[str, Any]]:
    """At each line's end the style and its range now, moved apart where levels meet."""
    placed: list[tuple[float, BestSeries]] = []
    for one in sorted(footing.series, key=lambda s: s.level_kg[-1]):
        least = placed[-1][0] + ENDS_APART * (high - low) if placed else low
        placed.append((max(units.of(one.level_kg[-1]), least), one))
    over = placed[-1][0] - high
    return [
        {
            "x": 1, "xref": "paper", "xanchor": "left", "xshift": 6, "y": round(at - max(over, 0.0), 1), "yref": "y",
            "align": "left", "font": {"color": style_colour(one.style)},
            "text": f"{name_of(one).capitalize()}<br>{units.of(one.low_kg[-1]):.0f}–{units.of(one.high_kg[-1]):.0f}",
        }
        for at, one in placed
    ]  # fmt: skip


def add_weeks(figure: go.Figure, weeks: Weeks, span: Span) -> None:
    """Bars of hard reps under the best, on its days, and under them the heavy pulls of each style."""
    shown = [(begins, reps) for begins, reps in zip(weeks.begins, weeks.reps, strict=True) if span.holds(begins)]
    top = max((reps for _, reps in shown), default=1.0) or 1.0
    middle = timedelta(days=3)
    figure.add_trace(
        go.Bar(
            x=[(begins + middle).isoformat() for begins, _ in shown], y=[round(reps, 1) for _, reps in shown],
            name="back, hard reps in the week", hovertemplate="%{y:.0f}", marker=dict(hatched("/")),
            width=5.5 * 86_400_000,
        ),
        row=2, col=1,
    )  # fmt: skip
    for style in dict.fromkeys(h.style for h in weeks.heavy):
        heavy = [h for h in weeks.heavy if h.style == style and span.holds(h.day)]
        figure.add_trace(
            go.Scatter(
                x=[h.day.isoformat() for h in heavy], y=[-0.16 * top] * len(heavy), mode="markers",
                name=f"{style_words(style)}, heavy pull", hoverinfo="skip", marker=made_mark(style, 7),
            ),
            row=2, col=1,
        )  # fmt: skip
    step = next((s for s in (2, 5, 10, 20, 50, 100, 200, 500) if top / s <= 3), 1000)
    ticks = list(range(0, int(top) + 1, step))
    figure.update_yaxes(title_text="hard reps", range=[-0.3 * top, 1.12 * top], tickvals=ticks, row=2, col=1)
    figure.update_xaxes(zeroline=False, row=2, col=1)


def add_events(figure: go.Figure, events: Sequence[Event]) -> None:
    """A thin line through the figure at each event; the latest few are named on top."""
    for one in events:
        figure.add_shape(
            type="line", x0=one.day.isoformat(), x1=one.day.isoformat(), y0=0, y1=1, yref="paper", xref="x",
            line={"color": SOFT, "width": 1.2, "dash": "3px,3px"},
        )  # fmt: skip
    for one in sorted(events, key=lambda e: e.day)[-MOST_EVENTS:]:
        figure.add_annotation(
            x=one.day.isoformat(), xref="x", y=1, yref="paper", yanchor="top", xanchor="right", xshift=-3,
            text=one.word, hovertext=one.title, font={"color": SOFT},
        )  # fmt: skip


def _ends(footing: Footing, span: Span) -> tuple[str, str]:
    """First and last day of the axis."""
    first = min(series.days[0] for series in footing.series)
    begins = first if span.since is None else max(first, span.since)
    return (begins - timedelta(days=6)).isoformat(), (span.as_of + timedelta(days=4)).isoformat()


def _days_within(series: BestSeries, span: Span) -> range:
    """Places of the series from one day before the span on, so that a line enters from the left."""
    first = 0 if span.since is None else max(bisect_right(series.days, span.since) - 1, 0)
    return range(first, len(series.days))


def name_of(series: BestSeries) -> str:
    """The style, or the lift where there is none."""
    return style_words(series.style) if series.style else series.label.partition(",")[0]


def _rows(series: BestSeries, span: Span, units: Units) -> list[tuple[str, ...]]:
    """The latest days of one style, the newest first."""
    places = list(_days_within(series, span))[-TABLE_ROWS:][::-1]
    columns = (series.level_kg, series.low_kg, series.high_kg)
    return [
        (day_words(series.days[i]), name_of(series), *(f"{units.of(values[i]):.0f}" for values in columns))
        for i in places
    ]


def caption(footing: Footing, span: Span) -> str:
    """How to read the marks, with the count of misses."""
    missed = sum(span.holds(m.day) for s in footing.series for m in s.misses)
    thinned = any(s.sessions > len(s.days) for s in footing.series)
    return f"Coloured mark: single made. Ring in ink: missed, {missed}." + (
        " Some days are left out of the line." if thinned else ""
    )


def now_words(series: BestSeries, as_of: date, units: Units) -> str:
    """The range now, twelve weeks ago, what it rests on, and the heaviest single."""
    said = f"{name_of(series).capitalize()}: {span_words(series.low_kg[-1], series.high_kg[-1], units)} now"
    before = bisect_right(series.days, as_of - timedelta(weeks=12)) - 1
    if before >= 0:
        said += f", {span_words(series.low_kg[before], series.high_kg[before], units)} twelve weeks ago"
    said += f"; {series.sets} sets of {series.sessions} days count"
    said += f", {series.unused} lighter ones are left out." if series.unused else "."
    top = max(series.singles, key=lambda s: s.load_kg, default=None)
    return said if top is None else f"{said} Best single {lifted_words(top.load_kg, units)}, {day_words(top.day)}."
