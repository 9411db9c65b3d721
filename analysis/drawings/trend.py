"""A lifter's half year as a line no larger than a word: one line a style, ink rings where a pull was missed."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from math import isfinite

from analysis.drawings.marks import Mark

WIDTH, HEIGHT = 118, 34
EDGE = 5.0  # room for a ring at either end
ROOM = 0.15  # of the lifter's own range, so that a flat half year does not look like a climb
LEAST_SPAN = 0.06  # share of the level: under it the range is drawn as if it were this wide
RING = 2.6

Line = Sequence[float | None]


def sparkline(lines: Mapping[str, Line], misses: Iterable[tuple[float, float]] = ()) -> str:
    """The picture as markup: style -> levels (kg) at even steps, None before the first; misses as (place 0-1, kg).

    Scaled to the lifter's own range, 15 % wider, so that it tells movement and never who is stronger. It says nothing
    that the row does not say in words, so it is hidden from readers of the screen.
    """
    rings = [(place, load) for place, load in misses if isfinite(load)]
    known = [one for line in lines.values() for one in line if one is not None] + [load for _, load in rings]
    if not known:
        return f'<svg class="trend" viewBox="0 0 {WIDTH} {HEIGHT}" aria-hidden="true"></svg>'
    low, high = _window(known)

    def x(place: float) -> float:
        return EDGE + place * (WIDTH - 2 * EDGE)

    def y(load: float) -> float:
        return EDGE + (high - load) / (high - low) * (HEIGHT - 2 * EDGE)

    marks = [mark.svg("") for style, line in lines.items() for mark in _marks(style, line, x, y)]
    marks += [
        Mark("circle", "miss", {"cx": f"{x(place):.1f}", "cy": f"{y(load):.1f}", "r": f"{RING:g}"}).svg("")
        for place, load in rings
    ]
    return f'<svg class="trend" viewBox="0 0 {WIDTH} {HEIGHT}" aria-hidden="true">{"".join(marks)}</svg>'


def _window(known: Sequence[float]) -> tuple[float, float]:
    """Lowest and highest load of the picture, kg."""
    low, high = min(known), max(known)
    span = max((high - low) * (1.0 + ROOM), LEAST_SPAN * high, 1e-9)
    middle = 0.5 * (low + high)
    return middle - 0.5 * span, middle + 0.5 * span


def _marks(style: str, line: Line, x: Callable[[float], float], y: Callable[[float], float]) -> list[Mark]:
    """The line of a style, broken where nothing is known; a single point is a dot."""
    last = max(len(line) - 1, 1)
    points = [(x(i / last), y(load)) for i, load in enumerate(line) if load is not None]
    if len(points) == 1:
        cx, cy = points[0]
        return [Mark("circle", f"m-{style}", {"cx": f"{cx:.1f}", "cy": f"{cy:.1f}", "r": "2"})]
    path = "L".join(f"{px:.1f},{py:.1f}" for px, py in points)
    return [Mark("path", f"l-{style}", {"d": f"M{path}"})] if points else []
