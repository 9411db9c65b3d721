"""One part of a dashboard: a figure with its rows, or what to log so that there is one."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from analysis.figures.card import FigureCard


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
