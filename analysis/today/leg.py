"""A standing leg as the ruler of a miss: six dots at the true heights of this lifter, each joined to its row."""

from __future__ import annotations

from collections.abc import Mapping

from analysis.drawings.marks import Mark

WIDTH, HEIGHT, FLOOR = 176.0, 338.0, 330.0
TOP_ROOM = 19.0  # px above the highest dot
JOINT_X, DOT_X, ROW_X = 51.0, 81.0, 176.0
PLACES = ("lockout", "mid-thigh", "at-knee", "below-knee", "mid-shin", "floor")  # rows, top down
DISC_RADIUS = 0.225  # m: the bar's height on the floor with discs of 450 mm
BELOW_KNEE = 0.06  # m under the joint's centre: under the kneecap


def heights_of(knee_m: float, hip_m: float, hands_m: float) -> dict[str, float]:
    """Height over the floor (m) of the bar at each place of a miss, from the standing leg and the hanging hands."""
    below = knee_m - BELOW_KNEE
    return {
        "floor": DISC_RADIUS,
        "mid-shin": max(0.5 * (DISC_RADIUS + below), DISC_RADIUS + 0.02),
        "below-knee": below,
        "at-knee": knee_m,
        "mid-thigh": 0.5 * (knee_m + hip_m),
        "lockout": max(hands_m, 0.5 * (knee_m + hip_m) + 0.05),
    }


def leg(ankle_m: float, knee_m: float, heights: Mapping[str, float], chosen: str = "") -> str:
    """The picture as markup; rows of equal height stand right of it, and the chosen place is filled."""
    scale = (FLOOR - TOP_ROOM) / max(heights.values())

    def y(height: float) -> float:
        return FLOOR - scale * height

    knee, ankle = y(knee_m), y(ankle_m)
    marks = [*_outline(knee, ankle), Mark("path", "ink-line", {"d": f"M0,{FLOOR:g}H{WIDTH:g}"})]
    marks += [
        Mark("circle", "joint", {"cx": f"{JOINT_X:g}", "cy": f"{place:.1f}", "r": "5"}) for place in (knee, ankle)
    ]
    for number, key in enumerate(PLACES):
        dot, row = y(heights[key]), HEIGHT * (number + 0.5) / len(PLACES)
        is_on = " on" if key == chosen else ""
        d = f"M{DOT_X:g},{dot:.1f}H95L168,{row:.1f}H{ROW_X:g}"
        marks.append(Mark("path", f"to-row{is_on}", {"d": d}))
        marks.append(Mark("circle", f"stop{is_on}", {"cx": f"{DOT_X:g}", "cy": f"{dot:.1f}", "r": "5"}))
    inside = "".join(mark.svg("") for mark in marks)
    return f'<svg viewBox="0 0 {WIDTH:g} {HEIGHT:g}" preserveAspectRatio="none" aria-hidden="true">{inside}</svg>'


def _outline(knee: float, ankle: float) -> list[Mark]:
    """Thigh with cloth, shank and shoe around the joints, as one line each; the thigh leaves the picture at the top."""
    x = JOINT_X
    thigh = (
        f"M{x - 44:g},-10C{x - 42:g},{0.4 * knee:.1f} {x - 30:g},{0.75 * knee:.1f} {x - 22:g},{knee:.1f}"
        f"L{x + 22:g},{knee:.1f}C{x + 24:g},{0.75 * knee:.1f} {x + 33:g},{0.35 * knee:.1f} {x + 33:g},-10Z"
    )
    calf = knee + 0.35 * (ankle - knee)
    shank = (
        f"M{x - 22:g},{knee:.1f}C{x - 27:g},{calf:.1f} {x - 33:g},{calf:.1f} {x - 13:g},{ankle:.1f}"
        f"L{x + 13:g},{ankle:.1f}C{x + 17:g},{calf:.1f} {x + 20:g},{calf:.1f} {x + 22:g},{knee:.1f}Z"
    )
    hem = 0.55 * knee
    cloth = (
        f"M{x - 44:g},-10C{x - 43:g},{0.3 * knee:.1f} {x - 40:g},{0.45 * knee:.1f} {x - 36:g},{hem:.1f}"
        f"H{x + 30:g}C{x + 32:g},{0.4 * knee:.1f} {x + 33:g},{0.3 * knee:.1f} {x + 33:g},-10Z"
    )
    shoe = (
        f"M{x - 25:g},{FLOOR - 2:g}C{x - 27:g},{ankle + 12:.1f} {x - 16:g},{ankle - 3:.1f} {x:g},{ankle - 4:.1f}"
        f"C{x + 20:g},{ankle - 3:.1f} {x + 30:g},{ankle + 8:.1f} {x + 60:g},{FLOOR - 14:.1f}"
        f"C{x + 92:g},{FLOOR - 6:g} {x + 92:g},{FLOOR:g} {x + 74:g},{FLOOR:g}H{x - 10:g}Z"
    )
    return [
        Mark("path", "skin", {"d": thigh}),
        Mark("path", "skin", {"d": shank}),
        Mark("path", "cloth", {"d": cloth}),
        Mark("path", "shoe", {"d": shoe}),
    ]
