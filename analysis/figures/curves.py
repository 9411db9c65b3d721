"""Plotted figures of the leverage pages: curves over bar height and over stance."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from analysis.core.records.pulls import Estimate, FloatArray, StyleReport, SweepReport
from analysis.core.records.wording import percent
from analysis.figures.card import FigureCard, Table, card
from analysis.figures.theme import STYLE_MARKER, axis, layout, style_colour, style_line

Convert = Callable[[float], float]
TABLE_HEIGHTS = 7  # heights of the pull that the tables list


@dataclass(frozen=True, slots=True)
class Units:
    """How a page writes lengths: the unit's name and the conversion from metres."""

    name: str
    of: Convert


@dataclass(frozen=True, slots=True)
class Curve:
    """One quantity of the pull to plot: key, words, unit, and what its values are multiplied by."""

    key: str
    title: str
    unit: str
    values: Callable[[StyleReport], FloatArray]
    decimals: int = 0


def kind_of(report: StyleReport) -> str:
    """The preset that gives a report its colour and pattern."""
    return report.setup.preset if report.setup else report.name


def pull_card(
    curve: Curve, reports: Sequence[StyleReport], labels: Mapping[str, str], units: Units, caption: str
) -> FigureCard:
    """A quantity over bar height, one line a style."""
    drawn = [r for r in reports if r.pull]
    traces = [_pull_trace(curve, report, labels[report.name], units) for report in drawn]
    wanted = layout(axis(f"Bar height, {units.name}"), axis(curve.unit))
    return card(f"pull-{curve.key}", curve.title, caption, _pull_table(curve, drawn, labels, units), traces, wanted)


def _pull_trace(curve: Curve, report: StyleReport, label: str, units: Units) -> dict[str, object]:
    style, values = kind_of(report), curve.values(report)
    every = max(len(values) // 6, 1)
    return {
        "type": "scatter",
        "mode": "lines+markers",
        "name": label,
        "x": [round(units.of(float(z)), 2) for z in report.pull["z_m"]],
        "y": [round(float(v), 2) for v in values],
        "line": style_line(style),
        "marker": {
            "symbol": STYLE_MARKER.get(style, "circle"),
            "color": style_colour(style),
            "size": [9 if i % every == 0 else 0 for i in range(len(values))],
        },
        "hovertemplate": f"%{{y:.{curve.decimals}f}} {curve.unit}",
    }


def _pull_table(curve: Curve, reports: Sequence[StyleReport], labels: Mapping[str, str], units: Units) -> Table:
    """The quantity at even shares of each style's own pull, with the bar heights they stand at."""
    shares = np.linspace(0.0, 1.0, TABLE_HEIGHTS)
    head = ["Share of the pull"]
    for report in reports:
        head += [f"{labels[report.name]}: bar height, {units.name}", f"{labels[report.name]}: {curve.unit}"]
    rows = []
    for share in shares:
        row = [f"{percent(share)}".replace("%", " %")]
        for report in reports:
            at = round(share * (len(report.pull["z_m"]) - 1))
            row.append(f"{units.of(float(report.pull['z_m'][at])):.1f}")
            row.append(f"{float(curve.values(report)[at]):.{curve.decimals}f}")
        rows.append(tuple(row))
    return Table(tuple(head), tuple(rows))


@dataclass(frozen=True, slots=True)
class Swept:
    """One quantity of a stance sweep: key of SweepReport.values, words, unit, conversion, decimals."""

    key: str
    title: str
    unit: str
    of: Convert
    decimals: int = 0


def sweep_card(
    asked: Swept, sweep: SweepReport, units: Units, marks: Mapping[str, float], limit_m: float, caption: str
) -> FigureCard:
    """A quantity over stance with its 80 % band.

    `marks` are the styles' own stances (m) by style, `limit_m` the widest stance of this athlete.
    """
    stances = [round(units.of(s), 2) for s in sweep.stances_m]
    band_words = "8 in 10 bodies and habits that fit what is known"
    estimates = sweep.values[asked.key]
    band = [asked.of(e.low) for e in estimates], [asked.of(e.high) for e in estimates]
    reachable = {style: stance for style, stance in marks.items() if stance <= sweep.stances_m[-1]}
    grey = {"color": "rgba(128,128,128,0.5)", "width": 1}
    traces: list[dict[str, Any]] = [
        {"type": "scatter", "mode": "lines", "x": stances, "y": band[1], "line": grey, "name": "80 % range",
         "showlegend": False, "hoverinfo": "skip"},
        {"type": "scatter", "mode": "lines", "x": stances, "y": band[0], "line": grey, "fill": "tonexty",
         "fillcolor": "rgba(128,128,128,0.22)", "name": band_words, "hoverinfo": "skip"},
        {"type": "scatter", "mode": "lines", "x": stances, "y": [asked.of(e.value) for e in estimates],
         "line": {"color": "var(--ink)", "width": 2.5}, "name": asked.title,
         "hovertemplate": f"%{{y:.{asked.decimals}f}} {asked.unit}"},
        *(_mark(style, stance, estimates, sweep, asked, units) for style, stance in reachable.items()),
    ]  # fmt: skip
    limit = {"type": "line", "x0": units.of(limit_m), "x1": units.of(limit_m), "yref": "paper", "y0": 0, "y1": 1,
             "line": {"color": "var(--ink)", "dash": "2px,3px", "width": 1.5}}  # fmt: skip
    shapes = [limit] if limit_m < sweep.stances_m[-1] else []
    wanted = layout(axis(f"Stance, ankle to ankle, {units.name}"), axis(asked.unit), shapes=shapes)
    return card(f"sweep-{asked.key}", asked.title, caption, _sweep_table(asked, sweep, units), traces, wanted)


def _mark(
    style: str, stance: float, estimates: Sequence[Estimate], sweep: SweepReport, asked: Swept, units: Units
) -> dict[str, object]:
    """A style's own stance on the curve."""
    at = float(np.interp(stance, sweep.stances_m, [e.value for e in estimates]))
    return {
        "type": "scatter",
        "mode": "markers",
        "x": [round(units.of(stance), 2)],
        "y": [asked.of(at)],
        "name": f"{style.replace('-', ' ')} as set",
        "marker": {"symbol": STYLE_MARKER[style], "color": style_colour(style), "size": 12},
        "hovertemplate": f"%{{y:.{asked.decimals}f}} {asked.unit}",
    }


def _sweep_table(asked: Swept, sweep: SweepReport, units: Units) -> Table:
    rows = [
        (f"{units.of(stance):.0f}", *(f"{asked.of(v):.{asked.decimals}f}" for v in (e.value, e.low, e.high)))
        for stance, e in zip(sweep.stances_m, sweep.values[asked.key], strict=True)
    ]
    return Table((f"Stance, {units.name}", f"{asked.title}, {asked.unit}", "low", "high"), tuple(rows))
