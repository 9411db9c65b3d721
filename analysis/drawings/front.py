"""The lifter from the front at lift-off, with the feet from above: stance, turnout, hands, room between the discs."""

from __future__ import annotations

import cmath
from collections.abc import Callable, Sequence
from math import degrees, pi

from analysis.core.records.pulls import Setup, StyleReport
from analysis.drawings.marks import Drawing, Mark
from analysis.drawings.measures import label
from analysis.drawings.paths import Profile, View, limb
from analysis.drawings.side import used

SCALE = 150.0
HALF_WIDTH_M = 0.92
STACK_M = 0.09  # drawn thickness of the discs on one side
PLAN_Z_M = -0.40  # where the ankles of the footprints lie, below the floor line
SHANK: Profile = ((0.0, 0.052), (0.25, 0.062), (0.6, 0.045), (1.0, 0.036))
THIGH: Profile = ((0.0, 0.088), (0.3, 0.086), (0.8, 0.062), (1.0, 0.056))
ARM: Profile = ((0.0, 0.056), (0.3, 0.048), (0.5, 0.038), (0.6, 0.040), (1.0, 0.027))
FOOT = (
    (-0.055, -0.036), (-0.060, 0.030), (0.06, 0.038), (0.16, 0.052), (0.205, 0.030), (0.210, -0.016), (0.16, -0.042),
    (0.05, -0.034),
)  # fmt: skip


def front_top(reports: Sequence[StyleReport]) -> float:
    """Top (m) of a window that holds every style's front view, so that all floors are level."""
    return max(float(report.joints["head"][0, 2]) for report in reports) + 0.16


def front_view(report: StyleReport, name: str, length: Callable[[float], str], top: float) -> Drawing:
    """The front view of one style at lift-off in a window up to `top` (m); lengths written by `length`."""
    setup = report.setup
    assert setup is not None
    view = View(-HALF_WIDTH_M, HALF_WIDTH_M, PLAN_Z_M - 0.40, top, SCALE)
    words = (
        f"{name} from the front at lift-off: stance {length(setup.stance_m)} from ankle to ankle, feet turned out "
        f"{degrees(setup.turnout_rad):.0f}°, hands {length(setup.hand_spacing_m)} apart, "
        f"{length(setup.bar_span_m)} between the collars. The footprints lie below, seen from above."
    )
    marks = [*_ground(view, setup), *_lifter_marks(), *_bar(view, setup), *_stance(view, setup, length)]
    return Drawing(view.width, view.height, _shapes(view, report), marks, f"{name} from the front", words,
                   f"front style-{setup.preset}")  # fmt: skip


def _near(report: StyleReport, joint: str) -> complex:
    return complex(float(report.joints[joint][0, 1]), float(report.joints[joint][0, 2]))


def _mirrored(points: Sequence[complex]) -> list[complex]:
    return [complex(-p.real, p.imag) for p in points]


def _shapes(view: View, report: StyleReport) -> list[Mark]:
    """Silhouettes of both sides, trunk and head."""
    hip, knee, ankle = (_near(report, name) for name in ("hip", "knee", "ankle"))
    shoulder, hand, head = (_near(report, name) for name in ("shoulder", "hand", "head"))
    toe = _near(report, "toe")
    sides = {
        "shank": limb(knee, ankle, SHANK, SHANK, (0.6, 0.5)),
        "thigh": limb(hip, knee, THIGH, THIGH, (0.4, 0.8)),
        "arm": limb(shoulder, hand, ARM, ARM, (0.9, 0.5)),
        "shoe": _shoe(ankle, toe),
    }
    out = {f"{name}-left": points for name, points in sides.items()}
    out |= {f"{name}-right": _mirrored(points) for name, points in sides.items()}
    out["trunk"] = _trunk(hip, shoulder)
    out["head"] = [head + cmath.rect(0.088, a) + 0.022j * cmath.sin(a).real for a in _around(10)]
    out["neck"] = limb(complex(0, shoulder.imag - 0.02), head, ((0.0, 0.075), (1.0, 0.05)), ((0.0, 0.075), (1.0, 0.05)),
                       (0.2, 0.2))  # fmt: skip
    return [Mark("path", "", {"d": view.smooth(points)}, name=name) for name, points in out.items()]


def _around(count: int) -> list[float]:
    return [2 * pi * i / count for i in range(count)]


def _shoe(ankle: complex, toe: complex) -> list[complex]:
    out, y, top = 0.5 * (toe.real - ankle.real), ankle.real, ankle.imag
    return [
        complex(y - 0.042, 0.0), complex(y + 0.052 + out, 0.0), complex(y + 0.058 + out, 0.035),
        complex(y + 0.040, top), complex(y - 0.038, top), complex(y - 0.046, 0.03),
    ]  # fmt: skip


def _trunk(hip: complex, shoulder: complex) -> list[complex]:
    half = [
        complex(shoulder.real * 0.45, shoulder.imag + 0.05), complex(shoulder.real + 0.01, shoulder.imag + 0.025),
        complex(shoulder.real, hip.imag + 0.62 * (shoulder.imag - hip.imag)),
        complex(hip.real + 0.055, hip.imag + 0.30 * (shoulder.imag - hip.imag)),
        complex(hip.real + 0.085, hip.imag + 0.01), complex(hip.real * 0.6, hip.imag - 0.09),
    ]  # fmt: skip
    return [*half, *reversed(_mirrored(half))]


def _lifter_marks() -> list[Mark]:
    both = ("left", "right")
    legs = [f"{part}-{side}" for part in ("shank", "thigh") for side in both]
    arms, shoes = [f"arm-{side}" for side in both], [f"shoe-{side}" for side in both]
    return [
        *used("edge", "neck", "head", "trunk"),
        *used("skin", "neck", "head"),
        *used("cloth", "trunk"),
        *used("edge", *legs),
        *used("skin", *legs),
        *used("shoe", *shoes),
        *used("edge", *arms),
        *used("skin", *arms),
    ]


def _ground(view: View, setup: Setup) -> list[Mark]:
    line = view.line(complex(view.left, 0), complex(view.right, 0))
    centre, radius = setup.start_height_m, setup.disc_diameter_m / 2.0
    discs = []
    for left in (-setup.bar_span_m / 2.0 - STACK_M, setup.bar_span_m / 2.0):
        place = {"x": view.x(left), "y": view.y(centre + radius), "width": view.length(STACK_M),
                 "height": view.length(2.0 * radius), "rx": "3"}  # fmt: skip
        discs.append(Mark("rect", "disc", place))
    return [Mark("path", "floor", {"d": line}), *discs]


def _bar(view: View, setup: Setup) -> list[Mark]:
    end, z = setup.bar_span_m / 2.0 + STACK_M + 0.06, setup.start_height_m
    hands = [complex(side * setup.hand_spacing_m / 2.0, z) for side in (-1, 1)]
    fists = [Mark("circle", "skin fist", {"cx": view.x(h.real), "cy": view.y(h.imag), "r": "6"}) for h in hands]
    return [Mark("path", "bar-rod", {"d": view.line(complex(-end, z), complex(end, z))}), *fists]


def _stance(view: View, setup: Setup, length: Callable[[float], str]) -> list[Mark]:
    """Footprints from above with the turnout, and the stance as a dimension line."""
    marks = []
    half = setup.stance_m / 2.0
    for side in (-1, 1):
        ankle = complex(side * half, PLAN_Z_M)
        turned = [ankle + _turned(x, y, side, setup.turnout_rad) for x, y in FOOT]
        way = ankle + _turned(0.27, 0.0, side, setup.turnout_rad)
        marks.append(Mark("path", "footprint", {"d": view.smooth(turned)}))
        marks.append(Mark("path", "reference", {"d": view.line(ankle, way)}))
        marks.append(Mark("path", "reference", {"d": view.line(ankle, ankle - 0.30j)}))
    words = f"{degrees(setup.turnout_rad):.0f}°"
    marks.append(label(view, complex(half + 0.035, PLAN_Z_M - 0.30), words, "", "start"))
    z, tick = PLAN_Z_M + 0.12, 0.02
    line = view.line(complex(-half, z), complex(half, z))
    ends = "".join(view.line(complex(e, z - tick), complex(e, z + tick)) for e in (-half, half))
    marks.append(Mark("path", "bracket", {"d": line + ends}))
    marks.append(label(view, complex(0, z + 0.035), length(setup.stance_m), "", cls="label strong"))
    return marks


def _turned(forward: float, inward: float, side: int, turnout: float) -> complex:
    """A place on a footprint, from above: forward points down the page, outward by the turnout."""
    out = cmath.rect(1.0, -pi / 2 + side * turnout)
    return out * complex(forward, side * inward)
