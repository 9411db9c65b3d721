"""Panels and curves of the leverage pages, ready for the templates."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from django.utils.safestring import SafeString, mark_safe
from django.utils.text import slugify

from analysis.core.records.pulls import FloatArray, StyleReport
from analysis.core.records.wording import degrees
from analysis.drawings.front import front_top, front_view
from analysis.drawings.marks import Drawing
from analysis.drawings.panels import KEY_POSITIONS, Places, key_index, panel, sheet_for
from analysis.figures.card import FigureCard
from analysis.figures.curves import Curve, kind_of, pull_card
from analysis.leverages.page import LABELS, Page

Ghosts = Mapping[str, Sequence[Places]]  # by style, bodies at the ends of the range


@dataclass(frozen=True, slots=True)
class Panel:
    """One picture: `style` names it on the page, `kind` is the style whose colour it wears; numbers stand under it."""

    style: str
    kind: str
    label: str
    svg: SafeString
    numbers: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class PanelRow:
    """All styles at one moment of the pull."""

    position: str
    heading: str
    panels: tuple[Panel, ...]


def label_of(report: StyleReport) -> str:
    """What a panel is called."""
    return LABELS.get(report.name, report.name[:1].upper() + report.name[1:])


def panel_rows(styles: Sequence[StyleReport], page: Page, ghosts: Ghosts | None = None) -> list[PanelRow]:
    """Every style at lift-off (in a window high enough for the whole pull), at the knee, and at lockout."""
    windows, shown = {"lift-off": "pull"}, {"lift-off": ghosts or {}}
    return [
        panel_row(styles, page, position, windows.get(position, position), shown.get(position, {}))
        for position in KEY_POSITIONS
    ]


def panel_row(styles: Sequence[StyleReport], page: Page, position: str, window: str, ghosts: Ghosts) -> PanelRow:
    """Every style at one position; `window` says how much of the pull the picture must leave room for."""
    sheet, when = sheet_for(styles, window, page.length), KEY_POSITIONS[position]
    drawn = []
    for report in styles:
        index = key_index(report, position)
        picture = panel(report, index, sheet, label_of(report), when, ghosts.get(report.name, ()))
        drawn.append(_panel(report, picture, f"{position}-{report.name}", numbers_under(report, index, page)))
    return PanelRow(position, when[:1].upper() + when[1:], tuple(drawn))


def _panel(report: StyleReport, picture: Drawing, key: str, numbers: tuple[tuple[str, str], ...] = ()) -> Panel:
    """A picture for the template; `Drawing.svg` escapes every text and attribute itself."""
    markup = mark_safe(picture.svg(slugify(key)))  # noqa: S308
    return Panel(report.name, kind_of(report), label_of(report), markup, numbers)


def numbers_under(report: StyleReport, index: int, page: Page) -> tuple[tuple[str, str], ...]:
    """The numbers of a panel in words, for screens on which the picture's own letters are too small."""
    now = {key: float(values[index]) for key, values in report.pull.items()}
    return (
        ("hips to bar", page.length(now["hip_bar_distance_m"])),
        ("trunk", degrees(now["trunk_angle_deg"])),
        ("hip bend", degrees(now["hip_flexion_deg"])),
        ("knee bend", degrees(now["knee_flexion_deg"])),
    )


def front_views(styles: Sequence[StyleReport], page: Page) -> list[Panel]:
    """Every style from the front: stance, turnout, hands and the room between the discs."""
    top = front_top(styles)
    views = [(r, front_view(r, label_of(r), page.length, top)) for r in styles]
    return [_panel(report, view, f"front-{report.name}") for report, view in views]


def _relative(key: str, base: float) -> Curve:
    titles = {"hip_moment_nm": "Work for the hips (moment)", "knee_demand_nm": "Work for the legs",
              "trunk_moment_nm": "Work for the back (moment)"}  # fmt: skip

    def values(report: StyleReport) -> FloatArray:
        return np.asarray(report.pull[key] / base * 100.0)

    return Curve(key, titles[key], "% of conventional at lift-off", values)


def curve_cards(styles: Sequence[StyleReport], page: Page) -> list[FigureCard]:
    """Distance, angles and demands over bar height; demands relative where they would show a hidden body mass."""
    unit = page.units

    def plain(key: str, title: str, factor: float, name: str, decimals: int = 0) -> Curve:
        return Curve(key, title, name, lambda r: np.asarray(r.pull[key] * factor), decimals)

    demands = [_demand(key, styles[0], page) for key in ("hip_moment_nm", "knee_demand_nm", "trunk_moment_nm")]
    curves = [
        plain("hip_bar_distance_m", "Hip-to-bar distance", unit.of(1.0), unit.name, 1),
        *demands,
        plain("hip_flexion_deg", "Hip bend", 1.0, "degrees"),
        plain("knee_flexion_deg", "Knee bend", 1.0, "degrees"),
        plain("trunk_angle_deg", "Trunk above the horizontal", 1.0, "degrees"),
    ]
    labels = {s.name: label_of(s) for s in styles}
    return [pull_card(c, styles, labels, unit, curve_caption(c, styles)) for c in curves]


def _demand(key: str, first: StyleReport, page: Page) -> Curve:
    relative = _relative(key, float(first.pull[key][0]))
    if not page.sees_mass:
        return relative
    return Curve(key, f"{relative.title}, with {page.load_words}", "N m", lambda r: np.asarray(r.pull[key]))


def curve_caption(curve: Curve, styles: Sequence[StyleReport]) -> str:
    """The figure in a sentence: where each style begins and ends, and where it is largest."""
    parts = []
    for report in styles:
        values = np.asarray(curve.values(report))
        top = int(np.argmax(values))
        share = top / (len(values) - 1)
        where = "at the start" if share == 0 else "at lockout" if share == 1 else f"at {share * 100:.0f} % of the pull"
        parts.append(
            f"{label_of(report)} begins at {values[0]:.{curve.decimals}f} and ends at {values[-1]:.{curve.decimals}f}, "
            f"largest {where}"
        )
    return f"{curve.title} ({curve.unit}) over bar height. {'; '.join(parts)}."
