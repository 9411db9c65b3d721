"""The drawing and the words of leverages on an athlete's own page and report."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta

from analysis.core.leverages.findings import story
from analysis.core.records.plain import CoreError
from analysis.core.records.training import ProgressBoard
from analysis.core.styles.comparison import FLOOR_STYLES
from analysis.figures.card import FigureCard
from analysis.figures.progress import best_card
from analysis.leverages.page import page_for
from analysis.leverages.pictures import PanelRow, panel_row
from analysis.progress.page import chosen_footing
from analysis.progress.panel import weights
from analysis.progress.stored import record_from
from analysis.store.profiles import Sources
from athletes.models import Athlete, User

A_YEAR = timedelta(days=365)


@dataclass(frozen=True, slots=True)
class OwnFigure:
    """Styles side by side at lift-off, with what differs in this athlete's numbers."""

    row: PanelRow
    sentences: tuple[str, ...]


def own_trend(sources: Sources, viewer: User) -> FigureCard | None:
    """The last year's running best of the busiest footing, with its band; None while nothing usable is logged."""
    board, as_of = record_from(ProgressBoard, sources.profile("progress")), sources.as_of
    footing = chosen_footing(board, "")
    return best_card(footing, as_of - A_YEAR, as_of, weights(viewer)) if footing else None


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
