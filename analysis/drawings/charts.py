"""Small charts that carry an answer: what one load asks of each link, the course of a trial, weeks of work ahead.

Units are about pixels at the width the pages show, so that letters keep at least 12 px on a phone.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import ceil, floor

import numpy as np

from analysis.drawings.marks import Drawing, Mark, number

WIDTH = 360.0
ROW = 46.0
NOTHING_X, LIMIT_X, PAST_X = 86.0, 316.0, 350.0  # shares 0 and 1, and where a range past the limit is cut
LEFT, RIGHT = 34.0, 290.0  # of the course's days
DOT = 5.5
Place = Callable[[float], float]


@dataclass(frozen=True, slots=True)
class Asked:
    """What a load asks of one link in one style: share of the limit (1 = all of it) with its 80 % range."""

    style: str
    share: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class LinkRow:
    """One link: its name, where it is hardest, its marks (the main style first), or why nothing is drawn."""

    name: str
    where: str
    marks: tuple[Asked, ...]
    unknown: str = ""


def at_share(share: float) -> float:
    """Place of a share across the chart."""
    return min(NOTHING_X + share * (LIMIT_X - NOTHING_X), PAST_X)


def _text(x: float, y: float, words: str, cls: str = "", anchor: str = "start") -> Mark:
    return Mark("text", cls, {"x": number(x), "y": number(y), "text-anchor": anchor}, words)


def _line(cls: str, *points: tuple[float, float]) -> Mark:
    return Mark("path", cls, {"d": "M" + "L".join(f"{number(x)},{number(y)}" for x, y in points)})


def demands_chart(rows: Sequence[LinkRow], limit: str, title: str) -> Drawing:
    """A row a link: a filled dot for the main style, an open one for the other, soft bars for the ranges."""
    foot = 8.0 + ROW * len(rows)
    half = at_share(0.5)
    marks = [_line("grid-line", (half, 8.0), (half, foot)), _text(half, foot + 17.0, "half", "soft", "middle")]
    marks += [_line("ink-line", (LIMIT_X, 8.0), (LIMIT_X, foot)), _text(PAST_X, foot + 17.0, limit, "soft", "end")]
    for place, row in enumerate(rows):
        y = 30.0 + ROW * place
        marks += [_text(0.0, y, row.name), _text(0.0, y + 16.0, row.where, "soft")]
        marks.append(_line("grid-line", (NOTHING_X, y), (LIMIT_X, y)))
        marks += [_text(NOTHING_X, y - 6.0, row.unknown, "soft")] if row.unknown else _row_marks(row, y)
    words = "; ".join(_row_words(row) for row in rows)
    return Drawing(WIDTH, foot + 24.0, (), marks, title, f"{title}: {words}.", "chart")


def _row_marks(row: LinkRow, y: float) -> list[Mark]:
    marks = []
    for one in row.marks:
        ends = (at_share(max(one.low, 0.0)), y), (at_share(one.high), y)
        marks.append(_line(f"span s-{one.style}", *ends))
    for place, one in enumerate(row.marks):
        spot = {"cx": number(at_share(one.share)), "cy": number(y), "r": number(DOT)}
        marks.append(Mark("circle", f"m-{one.style}" if place == 0 else f"m-open o-{one.style}", spot))
    return marks + _shares(row, y)


def _shares(row: LinkRow, y: float) -> list[Mark]:
    """Shares over the dots, the lower to the left and the higher to the right, so that near ones do not meet."""
    ordered = sorted(row.marks, key=lambda one: one.share)
    if len(ordered) == 2 and percent(ordered[0].share) == percent(ordered[1].share):
        return [_text(at_share(ordered[0].share), y - 10.0, str(percent(ordered[0].share)), "soft", "middle")]
    places = [at_share(one.share) for one in ordered]
    if len(places) == 2 and places[1] - places[0] < 24.0:
        middle = sum(places) / 2.0
        sides = [(middle - 2.0, "end"), (middle + 2.0, "start")]
    else:
        sides = [(place, "middle") for place in places]
    return [
        _text(x, y - 10.0, str(percent(one.share)), "soft", anchor)
        for one, (x, anchor) in zip(ordered, sides, strict=True)
    ]


def percent(share: float) -> int:
    """A share in whole per cent."""
    return round(100.0 * share)


def _row_words(row: LinkRow) -> str:
    if row.unknown:
        return f"{row.name} {row.unknown}"
    return f"{row.name} ({row.where}) " + " and ".join(f"{percent(one.share)} in {one.style}" for one in row.marks)


@dataclass(frozen=True, slots=True)
class Course:
    """A trial in days from its start: sumo days, the usual course's range, the old level, and where it is heading.

    Loads are in the reader's unit; `today` is None before the trial.
    """

    new_style: str
    old_style: str
    days: float
    points: tuple[tuple[float, float], ...]
    band: tuple[tuple[float, float, float], ...]  # day, low, high
    level: float | None
    heading: tuple[float, float] | None
    today: float | None
    begins: str
    ends: str
    unit: str


def course_chart(course: Course, title: str) -> Drawing:
    """Level, days, range to come and decision day; the letters stand at the line ends."""
    height, foot = 190.0, 160.0
    low, high, step = _span(course)

    def x(day: float) -> float:
        return LEFT + (RIGHT - LEFT) * min(max(day / max(course.days, 1.0), 0.0), 1.0)

    def y(load: float) -> float:
        return foot - (load - low) / (high - low) * (foot - 14.0)

    marks = []
    for tick in range(ceil(low / step), floor(high / step) + 1):
        marks += [_line("grid-line", (LEFT, y(tick * step)), (RIGHT, y(tick * step)))]
        marks += [_text(LEFT - 5.0, y(tick * step) + 4.0, f"{tick * step:g}", "soft", "end")]
    hatch = "".join(f"M{number(x(day))},{number(y(a))}V{number(y(b))}" for day, a, b in _hatched(course))
    marks.append(Mark("path", "hatch", {"d": hatch or "M0,0"}))
    marks.append(_line("axis", (LEFT, foot), (RIGHT, foot)))
    if course.level is not None:
        marks.append(_line(f"l-{course.old_style}", (LEFT, y(course.level)), (RIGHT + 4.0, y(course.level))))
    if course.points:
        marks.append(_line(f"l-{course.new_style}", *((x(d), y(v)) for d, v in course.points)))
        spots = ({"cx": number(x(d)), "cy": number(y(v)), "r": "3.4"} for d, v in course.points)
        marks += [Mark("circle", f"m-open o-{course.new_style}", spot) for spot in spots]
    marks += _today(course, x, foot) + _ends(course, y)
    marks += [
        _text(LEFT, height - 14.0, course.begins, "soft"),
        _text(RIGHT, height - 14.0, course.ends, "soft", "end"),
    ]
    return Drawing(WIDTH, height, (), marks, title, _course_words(course, title), "chart")


def _hatched(course: Course) -> list[tuple[float, float, float]]:
    """The band as closely spaced lines: day, low, high, straight between its points."""
    if not course.band:
        return []
    count = int((RIGHT - LEFT) / 6.0)
    days, lows, highs = (list(row) for row in zip(*course.band, strict=True))
    found = []
    for place in range(count + 1):
        day = course.days * place / count
        found.append((day, float(np.interp(day, days, lows)), float(np.interp(day, days, highs))))
    return found


def _today(course: Course, x: Place, foot: float) -> list[Mark]:
    if course.today is None:
        return []
    at = x(course.today)
    room = LEFT + 60.0 < at < RIGHT - 62.0  # else the word would run into a date
    words = [_text(at, foot + 16.0, "today", "soft", "middle")] if room else []
    return [_line("today", (at, 8.0), (at, foot)), *words]


def _ends(course: Course, y: Place) -> list[Mark]:
    """The level and the range where the new style is heading, lettered beside the decision day without overlap."""
    marks, taken = [], -100.0
    if course.heading is not None:
        low, high = course.heading
        bar = RIGHT - 1.0
        marks += [_line("ink-line", (bar, y(low)), (bar, y(high)))]
        marks += [_line("ink-line", (bar - 4.0, y(end)), (bar + 4.0, y(end))) for end in course.heading]
        taken = y(high) + 4.0
        marks.append(_text(RIGHT + 8.0, taken, f"{low:.0f}–{high:.0f}", f"t-{course.new_style}"))
    if course.level is not None:
        at = y(course.level) + 4.0
        if abs(at - taken) < 16.0:
            at = taken + 16.0
        marks.append(_text(RIGHT + 8.0, at, f"{course.level:.0f}", f"t-{course.old_style}"))
    return marks


def _span(course: Course) -> tuple[float, float, float]:
    """Lowest and highest load shown, on whole steps, and the step between lines."""
    loads = [v for _, v in course.points] + [v for row in course.band for v in row[1:]]
    loads += [course.level] if course.level is not None else []
    loads += list(course.heading or ())
    low, high = min(loads, default=0.0), max(loads, default=1.0)
    step = next((s for s in (5.0, 10.0, 20.0, 50.0) if (high - low) / s <= 4.5), 100.0)
    return floor(low / step) * step, max(ceil(high / step), floor(low / step) + 1) * step, step


def _course_words(course: Course, title: str) -> str:
    parts = [f"{title}, {course.begins} to {course.ends}"]
    if course.level is not None:
        parts.append(f"level of {course.old_style} {course.level:.0f} {course.unit}")
    if course.points:
        first, last = course.points[0][1], course.points[-1][1]
        parts.append(f"{len(course.points)} {course.new_style} days from {first:.0f} to {last:.0f} {course.unit}")
    if course.heading:
        parts.append(f"heading for {course.heading[0]:.0f} to {course.heading[1]:.0f} {course.unit}")
    return "; ".join(parts) + "."


@dataclass(frozen=True, slots=True)
class Week:
    """One week of work ahead: the load in the reader's unit, and whether it is an easy one."""

    load: float
    easy: bool


def weeks_chart(weeks: Sequence[Week], begins: str, ends: str, title: str) -> Drawing:
    """A bar a week, easy ones hatched, and the day to look again at the end."""
    height, foot, head = 190.0, 146.0, 34.0
    loads = [week.load for week in weeks]
    step = 5.0 if max(loads) - min(loads) <= 25.0 else 10.0 if max(loads) - min(loads) <= 50.0 else 20.0
    low, high = floor(min(loads) / step - 1.0) * step, ceil(max(loads) / step) * step

    def y(load: float) -> float:
        return foot - (load - low) / (high - low) * (foot - head)

    marks = []
    for tick in range(round(low / step) + 1, round(high / step) + 1):
        marks += [_line("grid-line", (LEFT, y(tick * step)), (WIDTH, y(tick * step)))]
        marks += [_text(LEFT - 5.0, y(tick * step) + 4.0, f"{tick * step:g}", "soft", "end")]
    room = (WIDTH - LEFT - 24.0) / len(weeks)
    for place, week in enumerate(weeks):
        left, top, wide = LEFT + 4.0 + room * place, y(week.load), 0.58 * room
        box = {"x": number(left), "y": number(top), "width": number(wide), "height": number(foot - top)}
        marks.append(Mark("rect", "easy" if week.easy else "work", box))
        if week.easy:
            lines = (f"M{number(left)},{number(z)}h{number(wide)}" for z in _steps(top, foot, 5.0))
            marks.append(Mark("path", "hatch", {"d": "".join(lines)}))
        marks.append(_text(left + wide / 2.0, foot + 15.0, str(place + 1), "soft", "middle"))
    marks += [_line("axis", (LEFT, foot), (WIDTH, foot)), _line("ink-line", (WIDTH - 10.0, 20.0), (WIDTH - 10.0, foot))]
    marks += [_text(WIDTH, 14.0, "look again", "soft", "end"), _text(WIDTH, height - 10.0, ends, "soft", "end")]
    marks += [_text(LEFT, height - 10.0, begins, "soft")]
    marks.append(_text((LEFT + WIDTH) / 2.0, height - 10.0, "week; hatched = easy", "soft", "middle"))
    said = ", ".join(f"{week.load:g}{' easy' if week.easy else ''}" for week in weeks)
    return Drawing(WIDTH, height, (), marks, title, f"{title}, week by week: {said}; look again on {ends}.", "chart")


def _steps(top: float, foot: float, step: float) -> list[float]:
    return [top + step * k for k in range(1, int((foot - top) / step) + 1)]
