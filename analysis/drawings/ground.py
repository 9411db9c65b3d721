"""What the lifter stands on and pulls: floor, blocks or a raised platform, discs and the bar's end."""

from __future__ import annotations

from analysis.core.records.pulls import Setup
from analysis.drawings.marks import Mark
from analysis.drawings.paths import View

DISC_RINGS = ((1.0, "disc"), (0.86, "disc-ring"), (0.18, "disc-ring"))


def disc_floor(setup: Setup) -> float:
    """Height (m) of what the discs rest on, above the floor of the feet: block positive, deficit negative."""
    return setup.start_height_m - setup.disc_diameter_m / 2.0


def raised(setup: Setup) -> float:
    """How far (m) the feet stand above the floor that the discs rest on: the depth of a deficit, else 0."""
    return max(0.0, -disc_floor(setup))


def ground_marks(view: View, setup: Setup, bar_x: float) -> list[Mark]:
    """The floor, and the block under the discs or the platform under the feet when there is one."""
    level, floor = disc_floor(setup), -raised(setup)
    marks = [Mark("path", "floor", {"d": view.line(complex(view.left, floor), complex(view.right, floor))})]
    if level > 0.005:
        marks.append(_box(view, bar_x - 0.15, bar_x + 0.15, 0.0, level))
    if level < -0.005:
        marks.append(_box(view, -0.17, 0.30, level, 0.0))
    return marks


def _box(view: View, left: float, right: float, bottom: float, top: float) -> Mark:
    place = {
        "x": view.x(left),
        "y": view.y(top),
        "width": view.length(right - left),
        "height": view.length(top - bottom),
    }
    return Mark("rect", "block", place)


def disc_place(setup: Setup, bar: complex, rise: float) -> complex:
    """Centre of the discs when the hands are at `bar`: they stay down until the bar has bent by `rise`."""
    return complex(bar.real, max(setup.start_height_m, bar.imag - rise))


def disc_marks(view: View, centre: complex, radius: float) -> list[Mark]:
    """The disc behind the lifter."""
    place = {"cx": view.x(centre.real), "cy": view.y(centre.imag)}
    return [
        Mark("circle", cls, {**place, "r": view.length(radius * share)}, name=f"disc-{i}")
        for i, (share, cls) in enumerate(DISC_RINGS)
    ]


def disc_front(view: View, centre: complex, radius: float) -> Mark:
    """The outline of the disc on the near side, so light that the leg behind it stays in view."""
    place = {"cx": view.x(centre.real), "cy": view.y(centre.imag), "r": view.length(radius)}
    return Mark("circle", "disc-front", place, name="disc-front")


def bar_end(view: View, bar: complex, radius: float) -> Mark:
    """The bar's end in the fist."""
    place = {"cx": view.x(bar.real), "cy": view.y(bar.imag), "r": view.length(radius)}
    return Mark("circle", "bar", place, name="bar")
