"""Missed pulls by position of the bar, period by period, hatched ink from the floor upwards."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from analysis.core.records.terms import MISS_POSITIONS
from analysis.core.records.training import MissPeriod
from analysis.figures.card import FigureCard, Table, card
from analysis.figures.theme import axis, layout
from analysis.figures.words import LEGEND_ABOVE, PLACE_WORDS, hatched, period_words

PLACES = (*MISS_POSITIONS, "")
SHAPES = ("solid", "x", "/", "\\", "-", ".", "")


def misses_card(periods: Sequence[MissPeriod], step: str) -> FigureCard:
    """Counts by position; positions that never occur stay out of the legend and the table."""
    sums = [sum(p.counts[i] for p in periods) for i in range(len(PLACES))]
    here = [i for i, total in enumerate(sums) if total]
    names = [period_words(p.begins, step) for p in periods]
    days = [p.begins.isoformat() for p in periods]
    traces = [_trace(i, days, names, [p.counts[i] for p in periods]) for i in here]
    rows = tuple(
        (name, *(str(p.counts[i]) for i in here), str(sum(p.counts)))
        for name, p in zip(names, periods, strict=True)
        if sum(p.counts)
    )
    head = (step.capitalize(), *(PLACE_WORDS[PLACES[i]] for i in here), "together")
    frame = layout(
        axis("", type="date"),
        axis("Missed pulls", rangemode="tozero", dtick=_step_of(periods)),
        barmode="stack",
        legend=LEGEND_ABOVE,
    )
    return card("misses", "Missed pulls by where the bar stopped", _caption(sums), Table(head, rows), traces, frame)


def _trace(place: int, days: list[str], names: list[str], counts: list[int]) -> dict[str, Any]:
    name, look = PLACE_WORDS[PLACES[place]], hatched(SHAPES[place])
    return {"type": "bar", "name": name, "x": days, "y": counts, "hovertext": names, "marker": look}


def _step_of(periods: Sequence[MissPeriod]) -> int:
    """Whole numbers on the axis."""
    return max(max((sum(p.counts) for p in periods), default=1) // 6, 1)


def _caption(sums: Sequence[int]) -> str:
    total = sum(sums)
    parts = [f"{count} {PLACE_WORDS[place]}" for place, count in zip(PLACES, sums, strict=True) if count]
    return (
        f"{total} missed pull{'s' if total != 1 else ''} in this span: {', '.join(parts)}. Grip and balance misses are "
        "in here too; the weak-link page takes them out before it reads anything from a position."
    )
