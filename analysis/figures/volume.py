"""Intensity and volume: reps of pulls by share of the running best, period by period."""

from __future__ import annotations

from collections.abc import Sequence

from analysis.core.records.training import INTENSITY_BANDS, WorkPeriod
from analysis.figures.card import FigureCard, Table, card
from analysis.figures.curves import Units
from analysis.figures.theme import axis, layout
from analysis.figures.words import LEGEND_ABOVE, hatched, percent, period_words

SHAPES = (".", "/", "x", "solid", "")


def volume_card(periods: Sequence[WorkPeriod], step: str, units: Units) -> FigureCard:
    """Reps made in each band of intensity, stacked; tonnes and mean share stand in the table."""
    names = [period_words(p.begins, step) for p in periods]
    here = [i for i in range(len(INTENSITY_BANDS)) if any(p.reps[i] for p in periods)]
    traces = [
        {"type": "bar", "name": INTENSITY_BANDS[i], "x": [p.begins.isoformat() for p in periods],
         "y": [p.reps[i] for p in periods], "marker": hatched(SHAPES[i]), "hovertext": names}
        for i in here
    ]  # fmt: skip
    head = (step.capitalize(), *INTENSITY_BANDS, f"load x reps, 1000 {units.name}", "mean share of best")
    rows = tuple(_row(p, name, units) for p, name in zip(periods, names, strict=True) if sum(p.reps))[::-1]
    frame = layout(axis("", type="date"), axis("Reps made", rangemode="tozero"), barmode="stack", legend=LEGEND_ABOVE)
    return card(
        "volume", "Intensity and volume of pulls", _caption(periods, step, units), Table(head, rows), traces, frame
    )


def _row(period: WorkPeriod, name: str, units: Units) -> tuple[str, ...]:
    mean = "–" if period.mean_share is None else percent(period.mean_share)
    return name, *(str(n) for n in period.reps), f"{units.of(period.tonnes):.1f}", mean


def _caption(periods: Sequence[WorkPeriod], step: str, units: Units) -> str:
    trained = [p for p in periods if sum(p.reps)]
    reps = sum(sum(p.reps) for p in trained)
    heavy = sum(p.reps[3] for p in trained)
    tonnes = units.of(sum(p.tonnes for p in trained))
    return (
        f"{reps} reps of pulls in {len(trained)} {step}s with training, {tonnes:.0f},000 {units.name} lifted in sum; "
        f"{heavy} reps at 90 % of the running best or more. Shares are against the best of the same kind on that day."
    )
