"""What is drawn over the lifter: bar line, hip-bar bracket, arcs with degrees, the lockout line. All of it ink."""

from __future__ import annotations

import cmath
from collections.abc import Mapping
from dataclasses import dataclass
from math import pi

from analysis.drawings.marks import Mark
from analysis.drawings.paths import View, angle, unit
from analysis.drawings.side import Lifter

RING_JOINTS = ("ankle", "knee", "hip", "mid_spine", "shoulder")
BRACKET_BELOW_FLOOR_M = 0.075  # the bracket hangs below the floor, where no limb hides it


@dataclass(frozen=True, slots=True)
class Angles:
    """Angles to letter, degrees as the model counts them: flexion 0 straight, trunk above the horizontal."""

    knee: float
    hip: float
    trunk: float
    spine: float


def joint_marks(view: View, body: Lifter) -> list[Mark]:
    """Small rings on the joints."""
    return [
        Mark(
            "circle",
            "joint",
            {"cx": view.x(body.joint(n).real), "cy": view.y(body.joint(n).imag), "r": "3.2"},
            name=f"joint-{n}",
        )
        for n in RING_JOINTS
    ]


def link_marks(view: View, body: Lifter) -> list[Mark]:
    """The model's links as thin lines, from ankle to shoulder and down the arm."""
    chain = [body.joint(n) for n in ("ankle", "knee", "hip", "mid_spine", "shoulder", "hand")]
    return [Mark("path", "link", {"d": view.line(*chain)}, name="links")]


def bar_line(view: View, body: Lifter, below: float) -> Mark:
    """The vertical through the bar, from the bracket below the floor to above the head."""
    x, top = body.joint("hand").real, body.joint("shoulder").imag + 0.10
    return Mark("path", "bar-line", {"d": view.line(complex(x, below - 0.02), complex(x, top))}, name="bar-line")


def label(view: View, at: complex, text: str, name: str, anchor: str = "middle", cls: str = "label") -> Mark:
    """Words at a place, with a halo of paper (style sheet) so that they read over ink."""
    return Mark("text", cls, {"x": view.x(at.real), "y": view.y(at.imag), "text-anchor": anchor}, text, name)


def bracket_marks(view: View, hip: complex, bar: complex, z: float, words: str) -> list[Mark]:
    """The horizontal hip-to-bar distance, as a dimension line at height `z` below the floor, dropped from the hip."""
    tick = 0.022
    left, right = complex(hip.real, z), complex(bar.real, z)
    ends = "".join(view.line(end + 1j * tick, end - 1j * tick) for end in (left, right))
    return [
        Mark("path", "drop", {"d": view.line(hip, complex(hip.real, z - tick))}, name="drop"),
        Mark("path", "bracket", {"d": view.line(left, right) + ends}, name="bracket"),
        label(view, complex((left.real + right.real) / 2, z - 0.09), words, "bracket-words", cls="label strong"),
    ]


def _between(first: float, second: float) -> tuple[float, float]:
    """Two directions as a start and an end less than a half turn apart."""
    turn = (second - first + pi) % (2 * pi) - pi
    return first, first + turn


def angle_marks(view: View, body: Lifter, shown: Angles) -> list[Mark]:
    """Arcs at knee, hip and trunk: flexion is what a limb lacks to be straight with the one before it."""
    knee, hip = body.joint("knee"), body.joint("hip")
    thigh, shank = unit(knee - hip), unit(body.joint("ankle") - knee)
    lower, chord = unit(body.joint("mid_spine") - hip), unit(body.joint("shoulder") - hip)
    clear = body.joint("hand").real - hip.real + 0.15
    return [
        *_arc(view, knee, 0.17, angle(thigh), angle(shank), f"knee {shown.knee:.0f}°"),
        *_arc(view, hip, 0.20, angle(-thigh), angle(lower), f"hip {shown.hip:.0f}°"),
        *_arc(view, hip, clear, 0.0, angle(chord), f"trunk {shown.trunk:.0f}°"),
    ]


def _arc(view: View, at: complex, radius: float, start: float, end: float, words: str) -> list[Mark]:
    """An arc with its words outside it: left of the body when it opens backwards, else to the right."""
    first, last = _between(start, end)
    name, middle = words.split()[0], (first + last) / 2
    outside = at + cmath.rect(radius + 0.03, middle)
    backwards = name == "hip"
    outside += complex(0.0, 0.03 if backwards else -0.02)
    return [
        Mark("path", "reference", {"d": view.line(at, at + cmath.rect(radius + 0.03, first))}, name=f"{name}-from"),
        Mark("path", f"angle {name}-angle", {"d": view.arc(at, radius, first, last)}, name=f"{name}-arc"),
        label(view, outside, words, f"{name}-deg", "end" if backwards else "start"),
    ]


def spine_marks(view: View, body: Lifter, shown: Angles) -> list[Mark]:
    """The bend of the spine: the lower trunk's line carried on, and the degrees the upper trunk falls short of it."""
    hip, mid, top = body.joint("hip"), body.joint("mid_spine"), body.joint("shoulder")
    lower = unit(mid - hip)
    first, last = _between(angle(top - mid), angle(lower))
    words = mid + lower * (0.19 + 0.2j)
    return [
        Mark("path", "reference", {"d": view.line(mid, mid + lower * 0.24)}, name="spine-from"),
        Mark("path", "angle", {"d": view.arc(mid, 0.22, first, last)}, name="spine-arc"),
        label(view, words, f"bend {shown.spine:.0f}°", "spine-deg", "end"),
    ]


def lockout_marks(view: View, style: str, heights: Mapping[str, float], words: str) -> list[Mark]:
    """Lockout height of the bar across the panel: the other styles' lines faint, its own strong and lettered."""

    def across(height: float) -> str:
        return view.line(complex(view.left, height), complex(view.right, height))

    own, edge = heights[style], view.left + 0.015
    faint = [Mark("path", "lockout-of", {"d": across(z)}) for other, z in heights.items() if other != style]
    return [
        *faint,
        Mark("path", "lockout", {"d": across(own)}),
        label(view, complex(edge, own + 0.02), "lockout", "", "start", "label"),
        label(view, complex(edge, own - 0.085), words, "", "start", "label"),
    ]


def shown_angles(values: Mapping[str, float]) -> Angles:
    """The angles to letter, from a posture's quantities."""
    return Angles(
        knee=values["knee_flexion_deg"],
        hip=values["hip_flexion_deg"],
        trunk=values["trunk_angle_deg"],
        spine=values["spinal_flexion_deg"],
    )
