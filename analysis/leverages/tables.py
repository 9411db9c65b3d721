"""The tables of the leverage pages: quantities down, styles across, every estimate with its range."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from analysis.core.leverages.findings import STYLE_WORDS, paired
from analysis.core.records.pulls import Estimate, LeverageReport, StyleReport
from analysis.core.records.wording import NO_BREAK, degrees, percent, span_words
from analysis.leverages.page import LABELS, Page

Write = Callable[[float], str]


@dataclass(frozen=True, slots=True)
class Cell:
    """A value and its 80 % range in words; the range is empty where there is none."""

    value: str
    span: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """One quantity: its name, what it means in a few words, one cell a style."""

    name: str
    help: str
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class Group:
    """Rows of one moment of the pull."""

    heading: str
    rows: tuple[Row, ...]


def cell(estimate: Estimate | None, write: Write) -> Cell:
    """An estimate as value and range."""
    if estimate is None:
        return Cell("–")
    if write(estimate.low) == write(estimate.high):
        return Cell(write(estimate.value))
    return Cell(write(estimate.value), span_words(estimate.low, estimate.high, write))


def newton_metres(value: float) -> str:
    """A moment to 5 N m."""
    return f"{round(value / 5.0) * 5:.0f}{NO_BREAK}N{NO_BREAK}m"


POSTURE = (
    ("hip_bar_distance_m", "Hip-to-bar distance (moment arm)", "how far the hips stand behind the bar"),
    ("trunk_angle_deg", "Trunk above the horizontal", "0° lies flat, 90° stands upright"),
    ("hip_flexion_deg", "Hip bend", "0° is straight"),
    ("knee_flexion_deg", "Knee bend", "0° is straight"),
    ("shank_lean_deg", "Shin lean", "forward of the vertical"),
)
MOMENTS = (
    ("hip_moment_nm", "Work for the hips (both)", "moment that the hip extensors hold"),
    ("adductor_moment_nm", "Work for the inner thighs (both)", "moment that the adductors hold"),
    ("knee_demand_nm", "Work for the legs (both)", "moment at the knees, with the share the hamstrings add"),
    ("trunk_moment_nm", "Work for the back", "moment at the bend of the back"),
    ("l4l5_moment_nm", "Work low in the back (L4/L5)", "moment at the lowest lumbar joints"),
)


def numbers_table(report: LeverageReport, page: Page, demands: bool = True) -> list[Group]:
    """Every number of the page, grouped by the moment of the pull; without `demands` no moments."""
    styles = [s for s in report.styles if s.joints]
    groups = [
        Group("At lift-off", _posture_rows([s.lift_off for s in styles], page)),
        Group("With the bar at the knee", _posture_rows([s.knee for s in styles], page)),
        Group("Lockout", _lockout_rows(styles, page)),
    ]
    return [*groups, _moment_group(styles, page)] if demands else groups


def _posture_rows(found: Sequence[object], page: Page) -> tuple[Row, ...]:
    rows = []
    for key, name, meaning in POSTURE:
        write = page.length if key.endswith("_m") else degrees
        rows.append(Row(name, meaning, tuple(cell(at[key] if at else None, write) for at in found)))  # type: ignore[index]
    return tuple(rows)


def _lockout_rows(styles: Sequence[StyleReport], page: Page) -> tuple[Row, ...]:
    height = tuple(cell(s.lockout_height_m, page.length) for s in styles)
    motion = tuple(cell(s.range_of_motion_m, page.length) for s in styles)
    return (
        Row("Bar height at lockout", "above the floor", height),
        Row("Length of the pull (range of motion)", "start to lockout", motion),
    )


def _moment_group(styles: Sequence[StyleReport], page: Page) -> Group:
    """Moments in N m, or against the first style when they would give a hidden body mass away."""
    if page.sees_mass:
        rows = tuple(
            Row(name, meaning, tuple(cell(s.lift_off[key], newton_metres) for s in styles))
            for key, name, meaning in MOMENTS
        )
        return Group(f"Work (moments) at lift-off with {page.load_words}", rows)
    keys = [row for row in MOMENTS if row[0] != "adductor_moment_nm"]
    first = styles[0]
    rows = tuple(Row(name, meaning, tuple(_against(first, s, key) for s in styles)) for key, name, meaning in keys)
    return Group(f"Work (moments) at lift-off, {STYLE_WORDS.get(first.name, first.name)} = 100 %", rows)


def _against(first: StyleReport, style: StyleReport, key: str) -> Cell:
    if style is first:
        return Cell("100 %")
    change = paired(first, style, key, ratio=True)
    return cell(Estimate(1.0 + change.value, 1.0 + change.low, 1.0 + change.high), percent)


def style_heads(report: LeverageReport) -> list[tuple[str, str]]:
    """(preset, label) of every style drawn."""
    return [(s.name, LABELS.get(s.name, s.name)) for s in report.styles if s.joints]
