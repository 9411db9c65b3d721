"""How hard the predicted best is for each link over the bar's height, on the floor and at the scale of the lifter."""

from __future__ import annotations

from collections.abc import Sequence

from analysis.core.records.weak_link import StyleReading
from analysis.drawings.marks import Drawing, Mark, number
from analysis.drawings.paths import View

WIDTH_M = 1.05  # of the picture, at the lifter's scale
LEFT, RIGHT = 14.0, 26.0  # drawing units beside the scale of shares
SHOWN_FROM, SHOWN_TO = 0.0, 1.05  # share of the limit at the ends of the scale
GAP = 17.0  # units between two numbers at one height
LINKS = ("back", "hips", "legs")


def limits_picture(reading: StyleReading, window: View, pull: tuple[float, float], key: str) -> str:
    """An inline SVG: a line a link told apart by its pattern, each one's hardest height with its number, the limit.

    `window` is the lifter's, `pull` the bar's heights (m) at lift-off and lockout there.
    """
    view = View(0.0, WIDTH_M, window.bottom, window.top)
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
