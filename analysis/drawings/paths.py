"""Plane geometry of the drawing: points are complex numbers, x forward and z up in metres, until `View` maps them."""

from __future__ import annotations

import cmath
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from analysis.drawings.marks import number

UNITS_PER_METRE = 200.0
Profile = Sequence[tuple[float, float]]  # (share of the way along, half-width in m)


@dataclass(frozen=True, slots=True)
class View:
    """A window on the plane in metres; the page's y points down, the plane's z up."""

    left: float
    right: float
    bottom: float
    top: float
    scale: float = UNITS_PER_METRE

    @property
    def width(self) -> float:
        """Width in drawing units."""
        return (self.right - self.left) * self.scale

    @property
    def height(self) -> float:
        """Height in drawing units."""
        return (self.top - self.bottom) * self.scale

    def x(self, metres: float) -> str:
        """A horizontal place in drawing units."""
        return number((metres - self.left) * self.scale)

    def y(self, metres: float) -> str:
        """A height in drawing units."""
        return number((self.top - metres) * self.scale)

    def at(self, point: complex) -> str:
        """A point as "x,y"."""
        return f"{self.x(point.real)},{self.y(point.imag)}"

    def length(self, metres: float) -> str:
        """A length in drawing units."""
        return number(metres * self.scale)

    def line(self, *points: complex) -> str:
        """Path data of a broken line."""
        return "M" + "L".join(self.at(p) for p in points)

    def smooth(self, points: Sequence[complex], closed: bool = True) -> str:
        """Path data of a smooth curve through the points (Catmull-Rom as cubic Bezier pieces)."""
        count = len(points)
        span = range(count if closed else count - 1)

        def near(i: int) -> complex:
            return points[i % count] if closed else points[min(max(i, 0), count - 1)]

        pieces = [
            f"C{self.at(near(i) + (near(i + 1) - near(i - 1)) / 6)} "
            f"{self.at(near(i + 1) - (near(i + 2) - near(i)) / 6)} {self.at(near(i + 1))}"
            for i in span
        ]
        return f"M{self.at(points[0])}" + "".join(pieces) + ("Z" if closed else "")

    def arc(self, centre: complex, radius: float, start: float, end: float) -> str:
        """Path data of an arc between two angles (rad), as three Bezier pieces so that frames can be blended."""
        step = (end - start) / 3
        reach = 4 / 3 * cmath.tan(step / 4).real * radius
        out = f"M{self.at(centre + cmath.rect(radius, start))}"
        for i in range(3):
            a, b = start + i * step, start + (i + 1) * step
            p, q = centre + cmath.rect(radius, a), centre + cmath.rect(radius, b)
            out += f"C{self.at(p + cmath.rect(reach, a) * 1j)} {self.at(q - cmath.rect(reach, b) * 1j)} {self.at(q)}"
        return out


def unit(vector: complex) -> complex:
    """The direction of a vector; of a vanishing one, straight up."""
    return vector / abs(vector) if abs(vector) > 1e-9 else 1j


def angle(vector: complex) -> float:
    """Angle above the horizontal, rad."""
    return cmath.phase(vector)


def width_at(profile: Profile, share: float) -> float:
    """Half-width of a profile at a share of the way, straight between its points."""
    for (s0, w0), (s1, w1) in pairwise(profile):
        if share <= s1:
            return w0 + (w1 - w0) * (share - s0) / (s1 - s0)
    return profile[-1][1]


def limb(start: complex, end: complex, left: Profile, right: Profile, caps: tuple[float, float]) -> list[complex]:
    """Outline of a limb from `start` to `end`: half-widths to the left and right of the way, rounded ends.

    `caps` is how far the first and the last end bulge, as a share of their half-widths.
    """
    way = end - start
    along = unit(way)
    side = along * 1j
    up = [start + way * s + side * w for s, w in left]
    down = [start + way * s - side * w for s, w in reversed(right)]
    first, last = (left[0][1] + right[0][1]) / 2, (left[-1][1] + right[-1][1]) / 2
    return [*up, end + along * last * caps[1], *down, start - along * first * caps[0]]


def curve_through(start: complex, middle: complex, end: complex, shares: Sequence[float]) -> list[complex]:
    """Points on the smooth spine from hip over the mid-spine to the shoulder, at shares of its length.

    A quadratic Bezier whose control point is pulled so that the curve passes the two links' bend closely.
    """
    bend = middle + 0.5 * (middle - (start + (end - start) * 0.4))
    return [start * (1 - s) ** 2 + bend * 2 * s * (1 - s) + end * s**2 for s in shares]


def directions(points: Sequence[complex]) -> list[complex]:
    """Unit tangents along a row of points."""
    last = len(points) - 1
    return [unit(points[min(i + 1, last)] - points[max(i - 1, 0)]) for i in range(len(points))]
