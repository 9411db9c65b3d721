"""The course of a trial, or half a year of a best, as one small picture with labels at the ends of its lines."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from html import escape

from analysis.drawings.marks import Mark


@dataclass(frozen=True, slots=True)
class Course:
    """What is drawn: points (day, load) of `style`, the level it is held against, first and last day, today.

    Loads are in one unit, already the reader's; `level` is None where there is nothing to compare with.
    """

    style: str
    points: Sequence[tuple[date, float]]
    begins: date
    ends: date
    today: date
    level: float | None = None
    level_style: str = ""
    unit: str = "kg"


SIZES = {"desk": (560.0, 230.0), "phone": (350.0, 158.0)}


def course(drawn: Course, said: str, size: str) -> str:
    """The picture as markup for a desk or a phone, with `said` as what it tells in one sentence."""
    width, height = SIZES[size]
    left, right, top, floor = 12.0, width - 78.0, 26.0, height - 34.0
    loads = [load for _, load in drawn.points] + ([drawn.level] if drawn.level is not None else [])
    low, high = min(loads), max(loads)
    span = max((high - low) * 1.25, 0.06 * high)
    bottom_load = 0.5 * (low + high) - 0.5 * span
    days = max((drawn.ends - drawn.begins).days, 1)

    def x(day: date) -> float:
        return left + (right - left) * min(max((day - drawn.begins).days / days, 0.0), 1.0)

    def y(load: float) -> float:
        return floor - 8.0 - (load - bottom_load) / span * (floor - 8.0 - top)

    path = "L".join(f"{x(day):.1f},{y(load):.1f}" for day, load in drawn.points)
    marks = [Mark("path", "axis", {"d": f"M{left:g},{floor:g}H{right:g}"})]
    marks += [Mark("path", f"l-{drawn.style}", {"d": f"M{path}"})] if len(drawn.points) > 1 else []
    marks += [
        Mark("circle", f"m-{drawn.style}", {"cx": f"{x(day):.1f}", "cy": f"{y(load):.1f}", "r": "4"})
        for day, load in drawn.points
    ]
    ends = [(y(drawn.points[-1][1]), drawn.style, f"{drawn.points[-1][1]:.0f}")]
    if drawn.level is not None:
        at = y(drawn.level)
        marks.append(Mark("path", f"l-{drawn.level_style}", {"d": f"M{left:g},{at:.1f}H{right:g}"}))
        ends.append((at, drawn.level_style, f"{drawn.level:.0f}"))
        here = y(drawn.points[-1][1])
        marks.append(Mark("path", "heading", {"d": f"M{x(drawn.points[-1][0]):.1f},{here:.1f}H{right:g}"}))
    marks += _ends(ends, right, width)
    marks += _days(drawn, x, height - 14.0, right)
    inside = "".join(mark.svg("") for mark in marks)
    opening = f'<svg class="{size}" viewBox="0 0 {width:g} {height:g}" role="img" aria-label="{escape(said)}">'
    return f"{opening}{inside}</svg>"


def _ends(ends: list[tuple[float, str, str]], right: float, width: float) -> list[Mark]:
    """Load and style at the end of each line, apart from each other where the lines are near."""
    ends = sorted(ends)
    places = [ends[0][0]]
    for at, _, _ in ends[1:]:
        places.append(max(at, places[-1] + 30.0))
    marks = []
    for place, (_, style, text) in zip(places, ends, strict=True):
        marks.append(Mark("text", f"big t-{style}", {"x": f"{right + 8:g}", "y": f"{place + 2:.1f}"}, text))
        marks.append(Mark("text", f"soft t-{style}", {"x": f"{right + 8:g}", "y": f"{place + 15:.1f}"}, _short(style)))
    return marks


def _short(style: str) -> str:
    return {"conventional": "convent."}.get(style, style.replace("-", " "))


def _days(drawn: Course, x: Callable[[date], float], at: float, right: float) -> list[Mark]:
    """First day, today and the last day under the axis; today is left out where it would lie on another."""
    marks = [Mark("text", "soft", {"x": f"{x(drawn.begins):.1f}", "y": f"{at:g}"}, _day(drawn.begins))]
    if drawn.ends > drawn.today:
        end = {"x": f"{right:g}", "y": f"{at:g}", "text-anchor": "end"}
        marks.append(Mark("text", "soft", end, _day(drawn.ends)))
    now = x(drawn.today)
    if now - x(drawn.begins) > 80.0 and (right - now > 100.0 or drawn.ends <= drawn.today):
        anchor = "end" if drawn.ends <= drawn.today else "middle"
        marks.append(Mark("text", "soft", {"x": f"{now:.1f}", "y": f"{at:g}", "text-anchor": anchor}, "today"))
    return marks


def _day(day: date) -> str:
    return f"{day.day} {day:%b}"
