"""One style's panel at one height of the bar, all panels of a report to one scale, and the frames between."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from analysis.core.records.pulls import FloatArray, StyleReport
from analysis.drawings import ground, measures
from analysis.drawings.marks import Drawing, Mark, moving_parts
from analysis.drawings.paths import View
from analysis.drawings.side import (
    Lifter,
    far_marks,
    far_shapes,
    far_side,
    ghost_marks,
    ghost_shapes,
    lifter,
    near_marks,
    near_shapes,
)

KEY_POSITIONS = {"lift-off": "at lift-off", "knee": "with the bar at the knee", "lockout": "at lockout"}
FAR_FROM_M = 0.45  # a stance this wide shows the other leg
BEND_SHOWN_DEG = 20.0  # below it the bend of the spine is too small to draw an arc
FRAME_STEP = 6  # heights between frames of the moving picture; between them it is blended
Length = Callable[[float], str]
Places = Mapping[str, FloatArray]  # joint -> its x, y, z (m)


@dataclass(frozen=True, slots=True)
class Sheet:
    """What the panels of one row share: the window, the lockout heights by style, and how a length is written.

    Window and lockouts (m) count from the floor of the hall, on which a deficit's platform and a block stand.
    """

    window: View
    lockouts: Mapping[str, float]
    length: Length

    def view(self, raised: float) -> View:
        """The window in heights above feet that stand `raised` (m) above the hall's floor."""
        return replace(self.window, bottom=self.window.bottom - raised, top=self.window.top - raised)

    def lockouts_from(self, raised: float) -> dict[str, float]:
        """Lockout heights above feet that stand `raised` (m) above the hall's floor."""
        return {style: z - raised for style, z in self.lockouts.items()}


def sheet_for(reports: Sequence[StyleReport], position: str, length: Length) -> Sheet:
    """One window for all panels at one scale; as high as `position` needs, "pull" for the whole pull."""
    drawn = [r for r in reports if r.joints]
    hips = min(float(r.joints["hip"][:, 0].min()) for r in drawn)
    hands = max(float(r.joints["hand"][:, 0].max()) for r in drawn)
    heads = max(float(r.joints["head"][:, 0].max()) for r in drawn)
    lift = {r.name: ground.raised(r.setup) if r.setup else 0.0 for r in drawn}
    lockouts = {r.name: float(r.pull["z_m"][-1]) + lift[r.name] for r in drawn}
    rows = {r.name: slice(None) if position == "pull" else key_index(r, position) for r in drawn}
    tops = [float(r.joints["head"][rows[r.name], 2].max()) + lift[r.name] for r in drawn]
    window = View(hips - 0.70, max(heads + 0.18, hands + 0.58), -0.20, max(*tops, *lockouts.values()) + 0.24)
    return Sheet(window, lockouts, length)


def key_index(report: StyleReport, position: str) -> int:
    """Which height of the pull a key position is: first, at the knee, last."""
    if position == "knee":
        return report.knee_index
    return 0 if position == "lift-off" else len(report.pull["z_m"]) - 1


def posture(report: StyleReport, index: int) -> Lifter:
    """The side view of one height of a style's pull."""
    return side_view({name: xyz[index] for name, xyz in report.joints.items()})


def side_view(places: Places) -> Lifter:
    """A posture from the side; the true length of the leg scales the drawn widths."""
    knee, ankle, hip = (places[name] for name in ("knee", "ankle", "hip"))
    leg = sum(float(((a - b) ** 2).sum()) ** 0.5 for a, b in ((knee, ankle), (hip, knee)))
    return lifter({name: complex(float(xyz[0]), float(xyz[2])) for name, xyz in places.items()}, leg)


def panel_shapes(report: StyleReport, index: int, sheet: Sheet) -> list[Mark]:
    """The silhouettes that the marks of a panel use."""
    body, view = posture(report, index), sheet.view(_raised(report))
    shapes = near_shapes(view, body)
    if _shows_far_side(report):
        shapes += far_shapes(view, far_side(body, _apart(report, index)))
    return shapes


def panel_marks(report: StyleReport, index: int, sheet: Sheet) -> list[Mark]:
    """Every mark of a style's panel with the bar at the pull's height `index`, from back to front."""
    setup, body, up = report.setup, posture(report, index), _raised(report)
    assert setup is not None
    view, lockouts = sheet.view(up), sheet.lockouts_from(up)
    bar, radius = body.joint("hand"), setup.disc_diameter_m / 2.0
    centre = ground.disc_place(setup, bar, report.bar_rise_m)
    marks = ground.ground_marks(view, setup, bar.real)
    marks += measures.lockout_marks(view, report.name, lockouts, sheet.length(lockouts[report.name]))
    marks += ground.disc_marks(view, centre, radius)
    marks += (far_marks() if _shows_far_side(report) else []) + near_marks()
    marks += [ground.disc_front(view, centre, radius), *measures.joint_marks(view, body)]
    return marks + _measured(report, index, sheet, body)


def _measured(report: StyleReport, index: int, sheet: Sheet, body: Lifter) -> list[Mark]:
    view, setup = sheet.view(_raised(report)), report.setup
    assert setup is not None
    bar, hip = body.joint("hand"), body.joint("hip")
    shown = measures.shown_angles({key: float(values[index]) for key, values in report.pull.items()})
    below = -ground.raised(setup) - measures.BRACKET_BELOW_FLOOR_M
    marks = [measures.bar_line(view, body, below), ground.bar_end(view, bar, setup.bar_diameter_m / 2.0)]
    marks += measures.bracket_marks(view, hip, bar, below, sheet.length(bar.real - hip.real))
    marks += measures.angle_marks(view, body, shown)
    if report.pull["spinal_flexion_deg"][0] >= BEND_SHOWN_DEG:
        marks += measures.spine_marks(view, body, shown)
    return marks


def _raised(report: StyleReport) -> float:
    return ground.raised(report.setup) if report.setup else 0.0


def _shows_far_side(report: StyleReport) -> bool:
    return report.setup is not None and report.setup.stance_m >= FAR_FROM_M


def _apart(report: StyleReport, index: int) -> dict[str, float]:
    return {name: 2.0 * float(xyz[index, 1]) for name, xyz in report.joints.items()}


def words_for(report: StyleReport, index: int, label: str, when: str, length: Length) -> str:
    """The picture in words, with its numbers."""
    now = {key: float(values[index]) for key, values in report.pull.items()}
    lockout = float(report.pull["z_m"][-1])
    return (
        f"{label} {when}, side view: bar {length(now['z_m'])} above the floor, "
        f"hips {length(now['hip_bar_distance_m'])} behind the bar, "
        f"trunk {now['trunk_angle_deg']:.0f}° above the horizontal, hips bent {now['hip_flexion_deg']:.0f}°, "
        f"knees bent {now['knee_flexion_deg']:.0f}°, spine bent {now['spinal_flexion_deg']:.0f}°. "
        f"Lockout at {length(lockout)}."
    )


def panel(
    report: StyleReport, index: int, sheet: Sheet, label: str, when: str, ghosts: Sequence[Places] = ()
) -> Drawing:
    """One style's picture with the bar at the pull's height `index`; `ghosts` are outlined when the page asks."""
    view, names = sheet.view(_raised(report)), [f"ghost-{i}" for i in range(len(ghosts))]
    outlines = [
        s for name, places in zip(names, ghosts, strict=True) for s in ghost_shapes(view, side_view(places), name)
    ]
    return Drawing(
        sheet.window.width,
        sheet.window.height,
        panel_shapes(report, index, sheet) + outlines,
        panel_marks(report, index, sheet) + [mark for name in names for mark in ghost_marks(name)],
        f"{label} {when}",
        words_for(report, index, label, when, sheet.length),
        f"posture style-{report.setup.preset if report.setup else report.name}",
    )


def frame_indexes(report: StyleReport) -> list[int]:
    """The heights of the pull that become frames: every few, the first and the last among them."""
    last = len(report.pull["z_m"]) - 1
    return sorted({*range(0, last, FRAME_STEP), last})


def frames(report: StyleReport, sheet: Sheet) -> dict[str, dict[str, list[str]]]:
    """What moves in a style's panel over the frames of the pull, as `moving_parts` gives it."""
    indexes = frame_indexes(report)
    return moving_parts([panel_shapes(report, i, sheet) + panel_marks(report, i, sheet) for i in indexes])
