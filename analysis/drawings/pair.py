"""Two styles of one lifter in one picture: one scale, one floor, both lockout lines through both figures.

The picture is drawn once for a desk and once for a phone, so that its letters keep their size on both.
"""

from __future__ import annotations

import cmath
from collections.abc import Sequence
from dataclasses import dataclass, replace

from analysis.core.records.pulls import StyleReport
from analysis.drawings import ground, measures
from analysis.drawings.marks import Drawing, Mark, number
from analysis.drawings.panels import FAR_FROM_M, Length, posture
from analysis.drawings.paths import View, angle, unit
from analysis.drawings.side import Lifter, far_marks, far_shapes, far_side, head, near_marks, near_shapes

LIFT_OFF = 0
ROOM_BEHIND_M, ROOM_AHEAD_M = 0.28, 0.16  # beside the hips, and ahead of what reaches farthest
BRACKET_M = 0.075  # of the bracket below the floor


@dataclass(frozen=True, slots=True)
class Size:
    """A picture's size in units that are shown about as pixels: width, least and most height, line of text."""

    width: float
    least: float
    most: float
    line: float
    wide: bool

    @property
    def room_below(self) -> float:
        """Units under the floor for the bracket and its two lines of text."""
        return 68.0 if self.wide else 58.0


DESK = Size(760.0, 400.0, 515.0, 25.0, True)
PHONE = Size(360.0, 250.0, 330.0, 17.0, False)


@dataclass(frozen=True, slots=True)
class Figure:
    """One style to draw: its report, its name, and the hip-to-bar distance seen on film (m), None without one."""

    report: StyleReport
    name: str
    filmed_m: float | None = None

    @property
    def style(self) -> str:
        """Whose colour it wears."""
        return self.report.setup.preset if self.report.setup else self.report.name

    def value(self, key: str) -> float:
        """A quantity at lift-off, in the report's unit."""
        return float(self.report.pull[key][LIFT_OFF])

    @property
    def lockout_m(self) -> float:
        """Height of the bar at lockout above the floor."""
        return float(self.report.pull["z_m"][-1])


def pair(figures: Sequence[Figure], length: Length, size: Size) -> Drawing:
    """Both figures side by side at lift-off, each with its name, stance, bends, bracket and lockout line."""
    bodies = [posture(one.report, LIFT_OFF) for one in figures]
    scale, top = _scale(figures, bodies, size)
    across = size.width / len(figures)
    height = top * scale + size.room_below
    whole = View(0.0, size.width / scale, -size.room_below / scale, top, scale)
    shapes: list[Mark] = []
    marks = lockout_lines(figures, whole, length, size)
    marks.append(Mark("path", "floor", {"d": whole.line(0j, complex(whole.right, 0.0))}))
    for place, (one, body) in enumerate(zip(figures, bodies, strict=True)):
        left, right = _reach(one, body)
        start = (left + right) / 2.0 - across / scale / 2.0 - place * across / scale
        view = View(start, start + size.width / scale, whole.bottom, top, scale)
        found, drawn = _one(one, body, view, length, size)
        shapes += [_own(mark, place) for mark in found]
        marks += [_own(_coloured(mark, one.style), place) for mark in drawn]
        marks += _letters(one, place * across + 12.0, length, size)
    words = ". ".join(words_of(one, length) for one in figures)
    title = " and ".join(one.name for one in figures) + " at lift-off"
    return Drawing(size.width, height, shapes, marks, title, words + ".", "posture pair")


def _scale(figures: Sequence[Figure], bodies: Sequence[Lifter], size: Size) -> tuple[float, float]:
    """Units a metre so that the widest figure fits its half, and the height (m) the picture reaches."""
    need = max(right - left for left, right in map(_reach, figures, bodies))
    top = max(max(point.imag for point in head(body)) for body in bodies) + 0.04
    scale = min(size.width / len(figures) / need, (size.most - size.room_below) / top)
    if not size.wide:  # the letters stand over the back, not on it
        back = max(body.joint("shoulder").imag for body in bodies) + 0.07
        top = max(top, back + (26.0 + 3.0 * size.line) / scale)
    return scale, max(top, (size.least - size.room_below) / scale)


def _reach(one: Figure, body: Lifter) -> tuple[float, float]:
    """How far (m) a figure reaches behind and ahead: hips, discs, head."""
    bar, radius = body.joint("hand").real, one.report.setup.disc_diameter_m / 2.0 if one.report.setup else 0.225
    ahead = max(body.joint("head").real, bar + radius) + ROOM_AHEAD_M
    filmed = bar - one.filmed_m if one.filmed_m else bar
    return min(body.joint("hip").real, filmed) - ROOM_BEHIND_M, ahead


def _one(one: Figure, body: Lifter, view: View, length: Length, size: Size) -> tuple[list[Mark], list[Mark]]:
    """Silhouettes and marks of one figure, from back to front."""
    setup = one.report.setup
    assert setup is not None
    bar, radius = body.joint("hand"), setup.disc_diameter_m / 2.0
    centre = ground.disc_place(setup, bar, one.report.bar_rise_m)
    shapes = near_shapes(view, body)
    marks = ground.disc_marks(view, centre, radius)
    if setup.stance_m >= FAR_FROM_M:
        apart = {name: 2.0 * float(xyz[LIFT_OFF, 1]) for name, xyz in one.report.joints.items()}
        shapes += far_shapes(view, far_side(body, apart))
        marks += far_marks()
    marks += [*near_marks(), ground.disc_front(view, centre, radius), *_joints(view, body)]
    marks.append(measures.bar_line(view, body, -BRACKET_M))
    marks.append(ground.bar_end(view, bar, setup.bar_diameter_m / 2.0))
    marks += _bracket(one, body, view, length, size)
    return shapes, marks + (_arcs(one, body, view) if size.wide else [])


def _joints(view: View, body: Lifter) -> list[Mark]:
    return [mark for mark in measures.joint_marks(view, body) if mark.name != "joint-mid_spine"]


def _bracket(one: Figure, body: Lifter, view: View, length: Length, size: Size) -> list[Mark]:
    """Hip to bar under the floor: what was filmed leads, what is drawn stands below it."""
    hip, bar = body.joint("hip"), body.joint("hand")
    drawn = length(bar.real - hip.real)
    marks = measures.bracket_marks(view, hip, bar, -BRACKET_M, "")[:2]
    middle = (hip.real + bar.real) / 2.0
    below = float(view.y(-BRACKET_M))
    leads, under = drawn, ""
    if one.filmed_m is not None:
        seen = complex(bar.real - one.filmed_m, hip.imag)
        ring = {"cx": view.x(seen.real), "cy": view.y(seen.imag), "r": "6"}
        marks.append(Mark("circle", "filmed-ring", ring, name="filmed"))
        marks.append(Mark("path", "drop", {"d": view.line(seen, complex(seen.real, -BRACKET_M - 0.02))}))
        leads, under = f"{length(one.filmed_m)} filmed", f"drawn {drawn}"
    at = {"x": view.x(middle), "y": number(below + (24.0 if size.wide else 20.0)), "text-anchor": "middle"}
    marks.append(Mark("text", "label strong lead", at, leads, "bracket-words"))
    if under:
        at = at | {"y": number(below + (44.0 if size.wide else 37.0))}
        marks.append(Mark("text", "label", at, under))
    return marks


def _arcs(one: Figure, body: Lifter, view: View) -> list[Mark]:
    """Trunk above the horizontal and bend of the knee, with their degrees."""
    knee, hip = body.joint("knee"), body.joint("hip")
    trunk = angle(unit(body.joint("shoulder") - hip))
    thigh, shank = angle(unit(knee - hip)), angle(unit(body.joint("ankle") - knee))
    turn = cmath.phase(cmath.rect(1.0, shank - thigh))
    reach = abs(body.joint("shoulder") - hip)
    return [
        Mark("path", "reference", {"d": view.line(hip, body.joint("shoulder"))}, name="trunk-line"),
        Mark("path", "reference", {"d": view.line(hip, hip + 0.9 * reach)}, name="level"),
        *_arc(view, hip, 0.85 * reach, (0.0, trunk), f"{one.value('trunk_angle_deg'):.0f}°", "trunk"),
        Mark("path", "reference", {"d": view.line(knee, knee + cmath.rect(0.15, thigh))}, name="thigh-line"),
        *_arc(view, knee, 0.11, (thigh, thigh + turn), f"{one.value('knee_flexion_deg'):.0f}°", "knee"),
    ]


def _arc(view: View, at: complex, radius: float, ends: tuple[float, float], words: str, name: str) -> list[Mark]:
    outside = at + cmath.rect(radius + 0.02, sum(ends) / 2.0)
    return [
        Mark("path", "angle", {"d": view.arc(at, radius, *ends)}, name=f"{name}-arc"),
        Mark("text", "label", {"x": view.x(outside.real), "y": view.y(outside.imag)}, words, f"{name}-deg"),
    ]


def lockout_lines(figures: Sequence[Figure], view: View, length: Length, size: Size) -> list[Mark]:
    """Each style's lockout height across the whole picture, lettered between the figures."""
    middle = view.right / 2.0
    highest = max(one.lockout_m for one in figures)
    marks = []
    for one in figures:
        z = one.lockout_m
        line = view.line(complex(0.0, z), complex(view.right, z))
        marks.append(Mark("path", f"lockout style-{one.style}", {"d": line}))
        y = float(view.y(z)) + (-6.0 if z == highest else 17.0)
        words = f"lockout {length(z)}" if size.wide else length(z)
        at = {"x": view.x(middle), "y": number(y), "text-anchor": "middle"}
        marks.append(Mark("text", f"label t-{one.style}", at, words))
    return marks


def _letters(one: Figure, left: float, length: Length, size: Size) -> list[Mark]:
    """Name, stance with toes, and the two bends, down the upper left of a figure."""
    setup = one.report.setup
    assert setup is not None
    toes = f", toes {setup.turnout_rad * 180.0 / cmath.pi:.0f}°" if size.wide else ""
    lines = (
        f"stance {length(setup.stance_m)}{toes}",
        f"knee bent {one.value('knee_flexion_deg'):.0f}°",
        f"hip bent {one.value('hip_flexion_deg'):.0f}°",
    )
    marks = [Mark("text", f"label name t-{one.style}", {"x": number(left), "y": "22"}, one.name)]
    for place, words in enumerate(lines, start=1):
        marks.append(Mark("text", "label", {"x": number(left), "y": number(22.0 + size.line * place)}, words))
    return marks


def _coloured(mark: Mark, style: str) -> Mark:
    return replace(mark, cls=f"{mark.cls} style-{style}") if mark.cls == "cloth" else mark


def _own(mark: Mark, place: int) -> Mark:
    """The mark with names that only one figure of the picture has."""
    name = f"f{place}-{mark.name}" if mark.name else ""
    return replace(mark, name=name, ref=f"f{place}-{mark.ref}" if mark.ref else "")


def words_of(one: Figure, length: Length) -> str:
    """The figure in words, with its numbers."""
    setup = one.report.setup
    assert setup is not None
    seen = f", filmed {length(one.filmed_m)}" if one.filmed_m is not None else ""
    return (
        f"{one.name}, stance {length(setup.stance_m)}: hips drawn {length(one.value('hip_bar_distance_m'))} behind "
        f"the bar{seen}, trunk {one.value('trunk_angle_deg'):.0f}° up, knee bent "
        f"{one.value('knee_flexion_deg'):.0f}°, hip bent {one.value('hip_flexion_deg'):.0f}°, lockout at "
        f"{length(one.lockout_m)}"
    )
