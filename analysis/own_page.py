"""The drawing and the words of leverages on an athlete's own page and report."""

from __future__ import annotations

from dataclasses import dataclass

from analysis.advice.leverage_findings import story
from analysis.advice.style_comparison import FLOOR_STYLES
from analysis.errors import CoreError
from analysis.leverage_pages.pictures import PanelRow, panel_row
from analysis.leverage_pages.shown import page_for
from athletes.models import Athlete, User


@dataclass(frozen=True, slots=True)
class OwnFigure:
    """Styles side by side at lift-off, with what differs in this athlete's numbers."""

    row: PanelRow
    sentences: tuple[str, ...]


def own_figure(athlete: Athlete, viewer: User) -> OwnFigure | None:
    """The athlete at lift-off in the flat styles; None without a stature or where no posture is possible."""
    page = page_for(athlete, viewer)
    if not page.measured:
        return None
    try:
        styles = [s for s in page.report().styles if s.error is None and s.name in FLOOR_STYLES]
    except CoreError:
        return None
    if not styles:
        return None
    told = [line for other in styles[1:] for line in story(styles[0], other, page.length, page.sees_mass).sentences]
    return OwnFigure(panel_row(styles, page, "lift-off", "lift-off", {}), tuple(told))
