"""Two styles on one floor and to one scale, and the chart that stands on the same floor: a quantity over bar height."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import ceil

from analysis.core.records.pulls import FloatArray, StyleReport
from analysis.drawings import ground, measures
from analysis.drawings.marks import Drawing, Mark, moving_parts, number
from analysis.drawings.panels import Places, Sheet, frame_indexes, panel_shapes, posture, side_view, words_for
from analysis.drawings.paths import View
from analysis.drawings.side import far_marks, ghost_marks, ghost_shapes, near_marks

BEHIND_HIPS_M, AHEAD_OF_BAR_M = 0.27, 0.44  # room for the seat behind, for disc and lockout's number in front
ABOVE_HEAD_M, BELOW_FLOOR_M = 0.15, 0.185
FAR_FROM_M = 0.45  # a stance this wide shows the other leg
AXIS_LEFT, AXIS_RIGHT = 24.0, 14.0  # drawing units beside the chart's scale
Length = Callable[[float], str]


@dataclass(frozen=True, slots=True)
class Line:
    """What the chart shows: its name, and for each style the values over the pull, in the unit of the name."""

    title: str
    first: FloatArray
    second: FloatArray


def stage(reports: Sequence[StyleReport], length: Length) -> Sheet:
    """One window, as narrow as the pulls allow, for every figure and the chart beside them."""
    lift = {r.name: ground.raised(r.setup) if r.setup else 0.0 for r in reports}
    hips = min(float(r.joints["hip"][:, 0].min()) for r in reports)
    hands = max(float(r.joints["hand"][:, 0].max()) for r in reports)
    heads = max(float(r.joints["head"][:, 0].max()) for r in reports)
    tops = [float(r.joints["head"][:, 2].max()) + lift[r.name] for r in reports]
    lockouts = {r.name: float(r.pull["z_m"][-1]) + lift[r.name] for r in reports}
    right = max(hands + AHEAD_OF_BAR_M, heads + 0.15)
    window = View(hips - BEHIND_HIPS_M, right, -BELOW_FLOOR_M, max(tops) + ABOVE_HEAD_M)
    return Sheet(window, lockouts, length)


def figure(
    report: StyleReport,
    index: int,
    sheet: Sheet,
    kinds: Sequence[tuple[str, str]],
    label: str,
    ghosts: Sequence[Places] = (),
) -> Drawing:
    """One style with the bar at the pull's height `index`; `kinds` are (name, preset) of every style on the floor."""
    view, names = sheet.view(_up(report)), [f"ghost-{i}" for i in range(len(ghosts))]
    outlines = [
        s for name, places in zip(names, ghosts, strict=True) for s in ghost_shapes(view, side_view(places), name)
    ]
    when = "at lift-off" if index == 0 else "at lockout" if index == len(report.pull["z_m"]) - 1 else "in the pull"
    return Drawing(
        view.width,
        view.height,
        [*panel_shapes(report, index, sheet), *outlines],
        [
            *_lines(report, sheet, kinds),
            *figure_marks(report, index, sheet),
            *(m for name in names for m in ghost_marks(name)),
        ],
        f"{label} {when}",
        words_for(report, index, label, when, sheet.length),
        f"posture pair style-{report.setup.preset if report.setup else report.name}",
    )


def _up(report: StyleReport) -> float:
    return ground.raised(report.setup) if report.setup else 0.0


def _lines(report: StyleReport, sheet: Sheet, kinds: Sequence[tuple[str, str]]) -> list[Mark]:
    """Every style's lockout across the figure in its own pattern; the figure's own is lettered, above or below."""
    view, heights = sheet.view(_up(report)), sheet.lockouts_from(_up(report))
    across = {name: view.line(complex(view.left, z), complex(view.right, z)) for name, z in heights.items()}
    marks = [Mark("path", f"l-{preset}", {"d": across[name]}) for name, preset in kinds]
    own = heights[report.name]
    above = own >= max(heights.values())
    at = complex(view.right - 0.02, own + (0.025 if above else -0.075))
    return [*marks, measures.label(view, at, sheet.length(own), "", "end", "label lockout-words")]


def figure_marks(report: StyleReport, index: int, sheet: Sheet) -> list[Mark]:
    """Lifter, disc, bar and bracket with the bar at the pull's height `index`, from back to front."""
    setup, body, view = report.setup, posture(report, index), sheet.view(_up(report))
    assert setup is not None
    bar, hip, radius = body.joint("hand"), body.joint("hip"), setup.disc_diameter_m / 2.0
    centre = ground.disc_place(setup, bar, report.bar_rise_m)
    below = -ground.raised(setup) - measures.BRACKET_BELOW_FLOOR_M
    cursor = view.line(complex(bar.real, bar.imag), complex(view.right, bar.imag))
    marks = [*ground.ground_marks(view, setup, bar.real), *ground.disc_marks(view, centre, radius)]
    marks += (far_marks() if setup.stance_m >= FAR_FROM_M else []) + near_marks()
    marks += [ground.disc_front(view, centre, radius), *measures.joint_marks(view, body)]
    marks += [Mark("path", "cursor", {"d": cursor}, name="cursor"), measures.bar_line(view, body, below)]
    marks += [ground.bar_end(view, bar, setup.bar_diameter_m / 2.0)]
    marks += measures.bracket_marks(view, hip, bar, below, sheet.length(bar.real - hip.real))
    return marks


def bent_words(report: StyleReport, index: int) -> tuple[str, str, str]:
    """Knee, hip and trunk as coaches say them: "knee bent 63°", "hip bent 114°", "trunk up 23°"."""
    keys = ("knee_flexion_deg", "hip_flexion_deg", "trunk_angle_deg")
    knee, hip, trunk = (float(report.pull[key][index]) for key in keys)
    return f"knee bent {knee:.0f}°", f"hip bent {hip:.0f}°", f"trunk up {trunk:.0f}°"


def scale_of(line: Line) -> tuple[float, float]:
    """The chart's end and step in the unit of its values, so that at most five numbers stand on the floor."""
    top = max(float(line.first.max()), float(line.second.max()), 1.0)
    step = next(s for s in (5.0, 10.0, 20.0, 25.0, 50.0, 100.0, 200.0, 500.0) if top / s <= 5.0)
    return ceil(top / step) * step, step


def chart(reports: Sequence[StyleReport], line: Line, sheet: Sheet, words: str) -> Drawing:
    """A quantity of both styles over the bar's height, at the figures' scale and on their floor; a dot at the bar."""
    window, (top, step) = sheet.window, scale_of(line)
    marks = [Mark("path", "floor", {"d": window.line(complex(window.left, 0), complex(window.right, 0))})]
    for i in range(round(top / step) + 1):
        x = _chart_x(i * step, top, window)
        rise = f"M{number(x)},{window.y(0.0)}V{window.y(max(sheet.lockouts.values()) + 0.06)}"
        marks += [Mark("path", "axis" if i == 0 else "grid", {"d": rise}), _tick(x, f"{i * step:g}", window)]
    for report, values in zip(reports, (line.first, line.second), strict=True):
        marks.append(_curve(report, values, top, window))
    heads = max(sheet.lockouts.values()) + 0.16
    place = {"x": number(AXIS_LEFT), "y": window.y(heads), "text-anchor": "start"}
    marks.append(Mark("text", "label strong", place, line.title))
    for at, (report, values) in enumerate(zip(reports, (line.first, line.second), strict=True)):
        marks += dot_marks(report, values, top, sheet, 0, ("first", "second")[at])
    return Drawing(window.width, window.height, [], marks, line.title, words, "posture pair chart")


def _chart_x(value: float, top: float, window: View) -> float:
    return AXIS_LEFT + (window.width - AXIS_LEFT - AXIS_RIGHT) * value / top


def _tick(x: float, words: str, window: View) -> Mark:
    return Mark("text", "label tick", {"x": number(x), "y": window.y(-0.085), "text-anchor": "middle"}, words)


def _curve(report: StyleReport, values: FloatArray, top: float, window: View) -> Mark:
    up, z = _up(report), report.pull["z_m"]
    every = range(0, len(z), 3)
    points = "L".join(f"{number(_chart_x(float(values[i]), top, window))},{window.y(float(z[i]) + up)}" for i in every)
    kind = report.setup.preset if report.setup else report.name
    return Mark("path", f"l-{kind}", {"d": f"M{points}"})


def dot_marks(report: StyleReport, values: FloatArray, top: float, sheet: Sheet, index: int, which: str) -> list[Mark]:
    """The dot of one style on the chart, and the line at the bar's height for the style that locks out higher."""
    window, z = sheet.window, float(report.pull["z_m"][index]) + _up(report)
    kind = report.setup.preset if report.setup else report.name
    x = _chart_x(float(values[index]), top, window)
    dot = Mark("circle", f"m-{kind}", {"cx": number(x), "cy": window.y(z), "r": "5"}, name=f"dot-{which}")
    if sheet.lockouts[report.name] < max(sheet.lockouts.values()):
        return [dot]
    across = window.line(complex(window.left, z), complex(window.right, z))
    return [Mark("path", "cursor", {"d": across}, name="chart-cursor"), dot]


def frames(
    report: StyleReport, values: FloatArray, top: float, sheet: Sheet, which: str
) -> dict[str, dict[str, list[str]]]:
    """What moves with the bar in one style's figure, in the words over it and on the chart, over the frames."""
    rows = []
    for i in frame_indexes(report):
        named = zip(("knee", "hip", "trunk"), bent_words(report, i), strict=True)
        said = [Mark("text", "", {}, words, f"{name}-words") for name, words in named]
        dots = dot_marks(report, values, top, sheet, i, which)
        rows.append([*panel_shapes(report, i, sheet), *figure_marks(report, i, sheet), *dots, *said])
    return moving_parts(rows)
