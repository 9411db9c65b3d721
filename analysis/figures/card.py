"""A plotted figure as a page shows it: the plot, a caption that says it in words, and its numbers as a table."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import plotly.graph_objects as go


@dataclass(frozen=True, slots=True)
class Table:
    """The numbers behind a figure: one heading a column, every cell as text."""

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class FigureCard:
    """What `figure.html` shows; `key` is unique on the page, `plot` the plain data of a checked figure."""

    key: str
    title: str
    caption: str
    table: Table
    plot: Mapping[str, Any]

    @property
    def plot_id(self) -> str:
        """Id of the element that holds the plot's data."""
        return f"plot-{self.key}"

    @property
    def height(self) -> int:
        """Height of the plot in px, which the page reserves before it is drawn."""
        return int(self.plot["layout"]["height"])


def card(
    key: str,
    title: str,
    caption: str,
    table: Table,
    traces: Sequence[Mapping[str, Any]],
    layout: Mapping[str, Any],
) -> FigureCard:
    """A figure card; plotly checks every trace and setting by name (ValueError for a wrong one)."""
    return card_of(key, title, caption, table, go.Figure(data=list(traces), layout=dict(layout)))


def card_of(key: str, title: str, caption: str, table: Table, figure: go.Figure) -> FigureCard:
    """A figure card of one of plotly's own figures, subplots included."""
    plot = json.loads(figure.to_json())
    return FigureCard(key, title, caption, table, {"data": plot["data"], "layout": plot["layout"]})
