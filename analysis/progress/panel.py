"""One part of a dashboard: a figure with its rows, or what to log so that there is one."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from django.http import Http404, HttpResponse

from analysis.figures.card import FigureCard
from analysis.figures.curves import Units
from athletes.exporting.csv_writer import MARK, guarded
from athletes.models import User
from athletes.schema.units import CM_PER_INCH, KG_PER_LB


@dataclass(frozen=True, slots=True)
class Link:
    """Words and the rows they open: by keys, or all lifts that a filter of the lift list lets through."""

    words: str
    keys: tuple[str, ...] = ()
    query: str = ""


@dataclass(frozen=True, slots=True)
class Panel:
    """A question, its figures, the rows behind them; without figures `empty` says what to log and why it pays."""

    key: str
    heading: str
    figures: tuple[FigureCard, ...] = ()
    empty: str = ""
    note: str = ""
    links: tuple[Link, ...] = ()


def figure_called(panels: Iterable[Panel], key: str) -> FigureCard | None:
    """The figure with that key on a page, or None."""
    return next((f for panel in panels for f in panel.figures if f.key == key), None)


def panel(
    key: str, heading: str, figures: Sequence[FigureCard], empty: str, note: str = "", links: Iterable[Link] = ()
) -> Panel:
    """A panel with its figures and links, or its empty state alone."""
    if not figures:
        return Panel(key, heading, empty=empty)
    return Panel(key, heading, tuple(figures), note=note, links=tuple(one for one in links if one.keys or one.query))


def weights(viewer: User) -> Units:
    """The reader's unit of load, from kg."""
    return Units("lb", lambda kg: kg / KG_PER_LB) if viewer.weight_unit == "lb" else Units("kg", lambda kg: kg)


def lengths(viewer: User) -> Units:
    """The reader's unit of height, from m."""
    if viewer.length_unit == "in":
        return Units("in", lambda metres: 100.0 * metres / CM_PER_INCH)
    return Units("cm", lambda metres: 100.0 * metres)


def numbers_file(panels: Iterable[Panel], key: str) -> HttpResponse:
    """The numbers of the figure called `key` among the panels; 404 when there is none now."""
    figure = figure_called(panels, key)
    if figure is None:
        raise Http404("There is no such figure.")
    response = HttpResponse(MARK, content_type="text/csv; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="{key}.csv"'
    writer = csv.writer(response)
    for row in (figure.table.head, *figure.table.rows):
        writer.writerow([guarded(text) for text in row])
    return response
