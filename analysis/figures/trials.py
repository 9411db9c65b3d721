"""The course of a trial: what was estimated each session, the usual first cost, and where it is heading."""

from __future__ import annotations

from typing import Any

from analysis.core.records.estimates import TrialPlan, TrialPoint, TrialVerdict
from analysis.core.trials.verdict import Course
from analysis.figures.card import FigureCard, Table, card
from analysis.figures.theme import INK, SOFT, STYLE_MARKER, axis, layout, style_colour, style_line
from athletes.schema.units import KG_PER_LB

BAND = "rgba(128,128,128,0.18)"


def trial_card(plan: TrialPlan, verdict: TrialVerdict, course: Course, unit: str = "kg") -> FigureCard:
    """Estimated best by week of the new style against the old level, in the reader's unit."""
    factor = 1.0 if unit == "kg" else 1.0 / KG_PER_LB
    new = [p for p in verdict.points if p.week >= 0 and p.day >= plan.begins and p.exposures >= 0]
    old_kg = verdict.heading.old_kg if verdict.heading else None
    traces = [_points(plan, new, factor)]
    if old_kg is not None:
        traces = [*_band(course, old_kg * factor), _old_line(plan, old_kg * factor), *traces]
    rows = tuple((f"{p.day:%-d %b %Y}", f"{p.week:.1f}", f"{p.estimate_kg * factor:.0f}") for p in new)
    table = Table(("Day", "Week", f"Estimated best, {unit}"), rows)
    y = axis(f"Estimated best, {unit}")
    return card("trial", "Estimated best through the trial", _caption(verdict, unit, factor), table, traces,
                layout(axis("Week of the trial", range=[-0.5, plan.weeks + 0.5]), y))  # fmt: skip


def _points(plan: TrialPlan, points: list[TrialPoint], factor: float) -> dict[str, Any]:
    colour, mark = style_colour(plan.new_style), STYLE_MARKER.get(plan.new_style, "circle")
    return {
        "type": "scatter",
        "mode": "markers+lines",
        "name": f"{plan.new_style}, day's estimate",
        "x": [p.week for p in points],
        "y": [p.estimate_kg * factor for p in points],
        "line": style_line(plan.new_style, 1.5),
        "marker": {"symbol": mark, "size": 9, "color": colour},
    }


def _band(course: Course, old: float) -> list[dict[str, Any]]:
    edge = {"color": SOFT, "width": 0}
    weeks = list(course.weeks)
    return [
        {"type": "scatter", "mode": "lines", "x": weeks, "y": [old * s for s in course.low], "line": edge,
         "showlegend": False, "hoverinfo": "skip"},
        {"type": "scatter", "mode": "lines", "x": weeks, "y": [old * s for s in course.high], "line": edge,
         "fill": "tonexty", "fillcolor": BAND, "name": "usual course, 8 in 10 days"},
    ]  # fmt: skip


def _old_line(plan: TrialPlan, old: float) -> dict[str, Any]:
    return {
        "type": "scatter",
        "mode": "lines",
        "name": f"{plan.old_style} level",
        "x": [0, plan.weeks],
        "y": [old, old],
        "line": {"color": INK, "width": 1.5, "dash": "3px,3px"},
    }


def _caption(verdict: TrialVerdict, unit: str, factor: float) -> str:
    heading = verdict.heading
    if heading is None:
        return "There is no comparable level of the old style yet, so only the new style's days are drawn."
    low, high = heading.heading_low_kg * factor, heading.heading_high_kg * factor
    return (
        f"The new style is heading for {low:.0f}–{high:.0f} {unit} against {heading.old_kg * factor:.0f} "
        f"{unit} in the old one; the grey band is where a style that ends level usually lies on the way."
    )
