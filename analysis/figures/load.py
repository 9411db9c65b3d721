"""Load on the lower back by week and lift, and days between heavy pulls against the windows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from analysis.core.records.estimates import StyleSpacing
from analysis.core.records.training import BackReview, BackWeek, HeavyPull
from analysis.figures.card import FigureCard, Table, card
from analysis.figures.curves import Units
from analysis.figures.theme import STYLE_MARKER, axis, layout, style_colour, style_line
from analysis.figures.words import LEGEND_ABOVE, day_words, hatched, load_words, percent, style_words

SHAPES = {
    "deadlift": "solid", "squat": "/", "front-squat": "\\", "romanian": "x",
    "good-morning": "-", "row": ".", "back-raise": "",
}  # fmt: skip
UNIT = "hard reps"
UNIT_WORDS = "one is one rep that asks the trunk for all it is estimated to have"
TABLE_ROWS = 40


def weeks_card(review: BackReview, sees_newton_metres: bool) -> FigureCard:
    """Trunk moment times reps by week, stacked by lift, in reps at the trunk's full capacity."""
    lifts = [lift for lift in SHAPES if any(lift == name for w in review.weeks for name, _ in w.by_lift)]
    traces = [
        {"type": "bar", "name": lift.replace("-", " "), "x": [w.begins.isoformat() for w in review.weeks],
         "y": [round(_load(w, lift) / review.capacity_nm, 2) for w in review.weeks], "marker": hatched(SHAPES[lift])}
        for lift in lifts
    ]  # fmt: skip
    head = ["Week from", *(lift.replace("-", " ") for lift in lifts), "together"]
    if sees_newton_metres:
        head.append("together, kN m")
    rows = tuple(_row(week, lifts, review.capacity_nm, sees_newton_metres) for week in review.weeks[::-1])
    frame = layout(
        axis("", type="date"), axis(UNIT.capitalize(), rangemode="tozero"), barmode="stack", legend=LEGEND_ABOVE
    )
    table = Table(tuple(head), rows)
    return card("back-weeks", "Load on the lower back by week", _weeks_caption(review), table, traces, frame)


def _load(week: BackWeek, lift: str) -> float:
    return dict(week.by_lift).get(lift, 0.0)


def _row(week: BackWeek, lifts: Sequence[str], capacity: float, newton_metres: bool) -> tuple[str, ...]:
    parts = [_load(week, lift) for lift in lifts]
    cells = [day_words(week.begins), *(f"{part / capacity:.1f}" for part in parts), f"{sum(parts) / capacity:.1f}"]
    return (*cells, f"{sum(parts) / 1000.0:.1f}") if newton_metres else tuple(cells)


def _weeks_caption(review: BackReview) -> str:
    four = review.load.last_28_nm / review.capacity_nm
    before = review.load.before_28_nm / review.capacity_nm
    since = review.load.since_heavy_nm / review.capacity_nm
    return (
        f"{four:.0f} {UNIT} in the last four weeks, {before:.0f} in the four before, {since:.1f} after the day of the "
        f"last heavy pull; {UNIT_WORDS}. Capacity from {review.capacity_words}. Sums only; it does not predict injury."
    )


def spacing_card(heavy: Sequence[HeavyPull], spacing: Sequence[StyleSpacing], as_of: date, units: Units) -> FigureCard:
    """Days since the heavy pull before, at each heavy pull of the last year; the window of each style shaded."""
    styles = [s for s in spacing if any(h.style == s.style and h.gap_days is not None for h in heavy)]
    traces = [_gaps(s.style, [h for h in heavy if h.style == s.style and h.gap_days is not None]) for s in styles]
    rows = tuple(
        (day_words(h.day), style_words(h.style), load_words(h.load_kg, units), percent(h.share), _gap(h.gap_days))
        for h in heavy[::-1][:TABLE_ROWS]
    )
    head = ("Day", "Style", "Heaviest", "Share of the running best", "Days since the one before")
    frame = layout(
        axis("", type="date"),
        axis("Days between", rangemode="tozero"),
        legend=LEGEND_ABOVE,
        shapes=[_window(s) for s in styles],
    )
    caption = " ".join(_since(s) for s in spacing)
    return card("heavy-spacing", "Days between heavy pulls", caption, Table(head, rows), traces, frame)


def _gap(days: int | None) -> str:
    return "–" if days is None else str(days)


def _gaps(style: str, pulls: Sequence[HeavyPull]) -> dict[str, Any]:
    return {
        "type": "scatter",
        "mode": "lines+markers",
        "name": style_words(style),
        "x": [p.day.isoformat() for p in pulls],
        "y": [p.gap_days for p in pulls],
        "line": style_line(style, 1.0),
        "marker": {"symbol": STYLE_MARKER[style], "size": 9, "color": style_colour(style)},
    }


def _window(one: StyleSpacing) -> Mapping[str, Any]:
    """The style's window as a band across the figure, edged with the style's pattern."""
    low, high = one.window_days
    return {
        "type": "rect",
        "xref": "paper",
        "x0": 0,
        "x1": 1,
        "y0": low,
        "y1": high,
        "fillcolor": style_colour(one.style),
        "opacity": 0.14,
        "line": style_line(one.style, 1.0),
        "layer": "below",
    }


def _since(one: StyleSpacing) -> str:
    """Where a style stands today against its window."""
    low, high = one.window_days
    window = f"usual window {low:g} to {high:g} days, common practice, no source"
    name = style_words(one.style).capitalize()
    if one.days_since is None or one.last_day is None:
        return f"{name}: no heavy pull is logged yet ({window})."
    place = {"sooner": "shorter than usual so far", "inside": "as usual", "longer": "longer than usual"}
    return f"{name}: {one.days_since} days since {day_words(one.last_day)}, {place[one.place]} ({window})."
