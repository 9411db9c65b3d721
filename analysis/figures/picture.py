"""The lifter where the bar is expected to stick, the heights at which misses stopped, and each link's limit beside."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from analysis.core.records.pulls import StyleReport
from analysis.core.records.terms import position_heights
from analysis.core.records.weak_link import StyleReading
from analysis.drawings import ground, measures
from analysis.drawings.marks import Drawing, Mark, number
from analysis.drawings.panels import panel_shapes, posture, sheet_for
from analysis.drawings.paths import View
from analysis.drawings.side import near_marks
from analysis.figures.ladder import NAMES, ladder_words, pull_ladder

RAIL_AHEAD_M = 0.72  # of the bar, so that the head and the discs stay clear of it
NAMES_M = 0.58  # room for the names of the heights beside the rail
RING_M, RING_STEP_M = 0.024, 0.12
NAME_GAP_M = 0.085  # between the lines of two names
WIDTH_M = 2.2  # of the window, so that what stands beside it can keep its scale
FLOOR_M = -0.10  # the window's lower edge, below the floor line
MOST_RINGS = 4  # side by side at one height; more are told in the caption
BESIDE_M = 1.05  # of the picture, at the lifter's scale
LEFT, RIGHT = 14.0, 26.0  # drawing units beside the scale of shares
SHOWN_FROM, SHOWN_TO = 0.0, 1.05  # share of the limit at the ends of the scale
GAP = 17.0  # units between two numbers at one height
LINKS = ("back", "hips", "legs")


@dataclass(frozen=True, slots=True)
class Rail:
    """The bar's way beside the lifter (m): where it stands, from the start to lockout, and the knee's height."""

    view: View
    x: float
    start: float
    top: float
    knee: float

    def zones(self) -> dict[str, float]:
        """Height (m) at which each position of a miss is marked; the bands are those of the estimate."""
        return position_heights(self.start, self.knee, self.top)


def window_of(reading: StyleReading, report: StyleReport | None) -> View | None:
    """The window of a style's picture, for what stands beside it at its scale; None where the body has no such pull."""
    if report is None or not report.joints or report.setup is None:
        return None
    z, x = report.pull["z_m"], float(report.joints["hand"][0, 0]) + RAIL_AHEAD_M
    top = max(float(report.joints["head"][_index(reading, report), 2]), float(z[-1])) + 0.26
    return View(x + NAMES_M - WIDTH_M, x + NAMES_M, FLOOR_M, top)


def _index(reading: StyleReading, report: StyleReport) -> int:
    """The height of the pull at which the bar is expected to slow."""
    z = report.pull["z_m"]
    return int(np.abs(z - (z[0] + (z[-1] - z[0]) * np.clip(reading.sticking_share, 0.0, 1.0))).argmin())


def pull_picture(reading: StyleReading, report: StyleReport | None, key: str) -> str:
    """An inline SVG of one style at the expected sticking height; the bare rail when the body has no such pull."""
    view = window_of(reading, report)
    if view is None or report is None:
        return pull_ladder(reading)
    sheet = sheet_for([report], "pull", lambda metres: f"{metres:.2f} m")
    z = report.pull["z_m"]
    bar_x = float(report.joints["hand"][0, 0])
    x = bar_x + RAIL_AHEAD_M
    index = _index(reading, report)
    rail = Rail(view, x, float(z[0]), float(z[-1]), float(z[report.knee_index]))
    drawn = replace(sheet, window=view)
    marks = [*_lifter(report, index, view), *_rail(rail), *_names(rail), *_misses(reading, rail)]
    return Drawing(
        view.width,
        view.height,
        panel_shapes(report, index, drawn),
        [_lockout(reading, rail), *marks, *_expected(report, index, rail)],
        f"Where {reading.label} stopped and where it is expected to stick",
        ladder_words(reading),
        f"ladder style-{reading.style}",
    ).svg(key)


def _lifter(report: StyleReport, index: int, view: View) -> list[Mark]:
    setup, body = report.setup, posture(report, index)
    assert setup is not None
    bar = body.joint("hand")
    centre, radius = ground.disc_place(setup, bar, report.bar_rise_m), setup.disc_diameter_m / 2.0
    marks = ground.ground_marks(view, setup, bar.real) + ground.disc_marks(view, centre, radius) + near_marks()
    marks += [ground.disc_front(view, centre, radius), *measures.joint_marks(view, body)]
    return [*marks, ground.bar_end(view, bar, setup.bar_diameter_m / 2.0)]


def _rail(rail: Rail) -> list[Mark]:
    ends = complex(rail.x, rail.start), complex(rail.x, rail.top)
    return [Mark("path", "rail", {"d": rail.view.line(*ends)})]


def _lockout(reading: StyleReading, rail: Rail) -> Mark:
    """Lockout across the whole picture, in the style's own pattern."""
    ends = complex(rail.view.left, rail.top), complex(rail.view.right, rail.top)
    return Mark("path", f"l-{reading.style}", {"d": rail.view.line(*ends)})


def _names(rail: Rail) -> list[Mark]:
    """A tick at each height and its name beside it; names that would run into each other move up."""
    marks, line = [], -1.0
    for zone, z in rail.zones().items():
        line = max(z - 0.025, line + NAME_GAP_M)
        tick = rail.view.line(complex(rail.x - 0.025, z), complex(rail.x + 0.025, z))
        place = {"x": rail.view.x(rail.x + 0.06), "y": rail.view.y(line)}
        marks += [Mark("path", "rung", {"d": tick}), Mark("text", "label", place, text=NAMES[zone])]
    return marks


def _misses(reading: StyleReading, rail: Rail) -> list[Mark]:
    """One ring per miss at the height where it stopped; those left out of the estimate are open and dashed."""
    zones, seen, marks = rail.zones(), dict.fromkeys(NAMES, 0), []
    for one in reading.miss_marks:
        column = seen[one.position]
        seen[one.position] += 1
        if column >= MOST_RINGS:
            continue
        place = complex(rail.x - 0.07 - RING_STEP_M * column, zones[one.position])
        at = {"cx": rail.view.x(place.real), "cy": rail.view.y(place.imag), "r": rail.view.length(RING_M)}
        marks.append(Mark("circle", "miss" if one.counted else "miss left-out", at))
        aside = RING_M + 0.012 if column % 2 == 0 else -RING_M - 0.062
        told = {"x": at["cx"], "y": rail.view.y(place.imag + aside), "text-anchor": "middle"}
        marks.append(Mark("text", "ring-load", told, f"{one.load_kg:g}"))
    return marks


def _expected(report: StyleReport, index: int, rail: Rail) -> list[Mark]:
    """The bar's height now, carried across to the rail."""
    z = float(report.pull["z_m"][index])
    bar = complex(float(report.joints["hand"][index, 0]), z)
    marks = [Mark("path", "stick", {"d": rail.view.line(bar, complex(rail.x, z))})]
    for words, above in (("expected", 0.05), ("to stick", -0.105)):
        place = {"x": rail.view.x(rail.x - 0.05), "y": rail.view.y(z + above), "text-anchor": "end"}
        marks.append(Mark("text", "label stick-words", place, text=words))
    return marks


def limits_picture(reading: StyleReading, window: View, pull: tuple[float, float], key: str) -> str:
    """An inline SVG: a line a link told apart by its pattern, each one's hardest height with its number, the limit.

    `window` is the lifter's, `pull` the bar's heights (m) at lift-off and lockout there.
    """
    view = View(0.0, BESIDE_M, window.bottom, window.top)
    curve = reading.curve
    ends = [_x(0.0, view), _x(1.0, view)]
    low, high = pull
    heights = [low + share * (high - low) for share in curve.share]
    marks = [Mark("path", "floor", {"d": view.line(complex(view.left, 0.0), complex(view.right, 0.0))})]
    across = view.line(complex(view.left, high), complex(view.right, high))
    marks.append(Mark("path", f"l-{reading.style}", {"d": across}))
    for x, cls in zip(ends, ("axis", "limit"), strict=True):
        marks.append(Mark("path", cls, {"d": f"M{number(x)},{view.y(low - 0.03)}V{view.y(high + 0.05)}"}))
    for x, words, anchor in ((ends[0], "0 %", "start"), (ends[1], "limit", "end")):
        place = {"x": number(x), "y": view.y(low - 0.10), "text-anchor": anchor}
        marks.append(Mark("text", "label", place, words))
    for link in LINKS:
        shares = getattr(curve, link)
        points = [f"{number(_x(s, view))},{view.y(z)}" for s, z in zip(shares, heights, strict=True)]
        marks.append(Mark("path", f"link-{link}", {"d": "M" + "L".join(points)}))
    title = f"How hard {reading.best_kg:.0f} kg is for each link"
    return Drawing(
        view.width,
        view.height,
        [],
        [*marks, *_peaks(reading, heights, view)],
        title,
        limits_words(reading),
        "ladder limits",
    ).svg(key)


def _x(share: float, view: View) -> float:
    return LEFT + (view.width - LEFT - RIGHT) * (min(share, SHOWN_TO) - SHOWN_FROM) / (SHOWN_TO - SHOWN_FROM)


def peak(heights: Sequence[float], shares: Sequence[float]) -> tuple[float, float]:
    """The height (m) at which a link is nearest its limit, and its share there."""
    at = max(range(len(shares)), key=shares.__getitem__)
    return heights[at], shares[at]


def _peaks(reading: StyleReading, heights: Sequence[float], view: View) -> list[Mark]:
    """A dot and a number at each link's hardest height; numbers that would run into each other move up."""
    marks, taken = [], [-99.0]
    for link in LINKS:
        z, share = peak(heights, getattr(reading.curve, link))
        x, y = _x(share, view), float(view.y(z))
        line = y - 8.0
        while any(abs(line - other) < GAP for other in taken):
            line -= 4.0
        taken.append(line)
        marks.append(Mark("circle", "peak", {"cx": number(x), "cy": number(y), "r": "4"}))
        place = {"x": number(x - 8.0), "y": number(line), "text-anchor": "end"}
        marks.append(Mark("text", "label", place, f"{link} {100 * share:.0f}"))
    return marks


def limits_words(reading: StyleReading) -> str:
    """The picture in a sentence with its numbers."""
    parts = []
    for link in LINKS:
        z, share = peak(reading.curve.height_m, getattr(reading.curve, link))
        parts.append(f"{link} at most {100 * share:.0f} % of the limit, hands {100 * z:.0f} cm above the floor")
    return f"{'; '.join(parts)}."
