"""Bending bars and grips: hands' height against load, rise of the hands, and what a bar or straps add in the log."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from analysis.core.records.estimates import Comparison
from analysis.core.records.training import BarGain, HandCurve
from analysis.figures.card import FigureCard, Table, card
from analysis.figures.curves import Units
from analysis.figures.theme import INK, SOFT, STYLE_MARKER, axis, layout, style_line
from analysis.figures.words import LEGEND_ABOVE, load_words, percent, style_words

SHOWN_M = 0.06  # the first centimetres: further up both bars carry the whole load
BAR_DASH = {"stiff": "solid", "training": "2px,4px", "flexible": "8px,4px"}
GRIP_WORDS = {"unknown": "grip not noted", "double-overhand": "double overhand", "mixed": "mixed", "hook": "hook"}
BAR_WORDS = {"unknown": "bar not noted", "hex-low": "hex bar, low handles", "hex-high": "hex bar, high handles"}


def hands_card(gain: BarGain, loads: Units, heights: Units) -> FigureCard:
    """Height of the hands over the load in them on a stiff and a flexible bar, beside what the weakest link allows."""
    name = style_words(gain.style)
    traces = [_hands(curve, loads, heights) for curve in gain.curves]
    traces.append(_allowed(gain, loads, heights))
    rows = tuple(
        (f"{heights.of(z):.1f}", load_words(kg, loads))
        for z, kg in list(zip(gain.allowed.height_m, gain.allowed.load_kg, strict=True))[::2]
    )
    start = gain.curves[0].height_m[0]
    rises = {curve.bar: curve.height_m[1] - curve.height_m[0] for curve in gain.curves}
    caption = (
        f"With {load_words(gain.load_kg, loads)} the hands rise {heights.of(rises['stiff']):.1f} {heights.name} on the "
        f"stiff bar and {heights.of(rises['flexible']):.1f} {heights.name} on the flexible one before the discs leave. "
        f"A lift limited at the floor gains from that, one limited higher does not; this one starts to limit at the "
        f"floor: {chance_words(gain.floor_chance)}."
    )
    frame = layout(
        axis(f"Load in the hands, {loads.name}", range=[0, round(loads.of(1.2 * gain.load_kg))]),
        axis(f"Hands above the floor, {heights.name}", range=[heights.of(start - 0.003), heights.of(start + SHOWN_M)]),
        hovermode="closest",
        legend=LEGEND_ABOVE,
    )
    table = Table((f"Hands above the floor, {heights.name}", "Load the weakest link allows"), rows)
    return card(f"hands-{gain.style}", f"Hands' height against load, {name}", caption, table, traces, frame)


def _hands(curve: HandCurve, loads: Units, heights: Units) -> dict[str, Any]:
    return {
        "type": "scatter",
        "mode": "lines",
        "name": f"{curve.bar} bar",
        "x": [round(loads.of(kg), 1) for kg in curve.load_kg],
        "y": [round(heights.of(z), 2) for z in curve.height_m],
        "line": {"color": INK, "width": 2, "dash": BAR_DASH[curve.bar]},
    }


def _allowed(gain: BarGain, loads: Units, heights: Units) -> dict[str, Any]:
    curve = gain.allowed
    return {
        "type": "scatter",
        "mode": "lines",
        "name": "what the weakest link allows",
        "x": [round(loads.of(kg), 1) for kg in curve.load_kg],
        "y": [round(heights.of(z), 2) for z in curve.height_m],
        "line": style_line(gain.style),
    }


def chance_words(chance: float) -> str:
    """A chance on the one scale of words: very likely from 0.85, likely from 0.65, leaning to from 0.55, else open."""
    words = ((0.85, "very likely"), (0.65, "likely"), (0.55, "leaning to it"), (0.45, "open"), (0.15, "hardly likely"))
    return next((word for least, word in words if chance >= least), "very unlikely")


def gains_card(gains: Sequence[BarGain], units: Units) -> FigureCard:
    """Kilograms a flexible bar gives over a stiff one in each style: statics and, where there are sets, the log."""
    traces = [
        _dots("by statics", [(style_words(g.style), g.gain_kg, g.low_kg, g.high_kg) for g in gains], "circle", units)
    ]
    logged = [
        (style_words(g.style), g.logged.difference_kg, g.logged.low_kg, g.logged.high_kg) for g in gains if g.logged
    ]
    if logged:
        traces.append(_dots("by the log", logged, "square-open", units))
    rows = tuple(_gain_row(g, units) for g in gains)
    head = (
        "Style",
        f"At, {units.name}",
        f"By statics, {units.name}",
        "Range",
        "The trade's band",
        "By the log",
    )
    frame = _lying_frame(f"Flexible over stiff bar, {units.name}", len(gains))
    caption = " ".join(_gain_words(g, units) for g in gains)
    return card("bar-gain", "What a flexible bar gives", caption, Table(head, rows), traces, frame)


def _gain_row(g: BarGain, units: Units) -> tuple[str, ...]:
    band = f"{units.of(g.practice[0] * g.load_kg):.0f} to {units.of(g.practice[1] * g.load_kg):.0f}"
    log = "no sets to compare"
    if g.logged:
        log = f"{units.of(g.logged.difference_kg):+.0f}, {g.logged.second_sets} sets against {g.logged.first_sets}"
    ends = f"{units.of(g.low_kg):.1f} to {units.of(g.high_kg):.1f}"
    return style_words(g.style), f"{units.of(g.load_kg):.0f}", f"{units.of(g.gain_kg):.1f}", ends, band, log


def _gain_words(g: BarGain, units: Units) -> str:
    share = g.gain_kg / g.load_kg
    name, at = style_words(g.style).capitalize(), load_words(g.load_kg, units)
    range_ = f"{units.of(g.low_kg):.1f}–{units.of(g.high_kg):.1f} {units.name}"
    if share < 0.005:
        return f"{name} at {at}: about nothing by statics ({range_})."
    return f"{name} at {at}: {units.of(g.gain_kg):.1f} {units.name} ({100 * share:.1f} %; {range_}) by statics."


def comparison_card(
    key: str, title: str, compared: Sequence[Comparison], limit: float | None, units: Units
) -> FigureCard:
    """Logged differences in kg with their 80 % ranges, one line a comparison."""
    named = [
        (name, c.difference_kg, c.low_kg, c.high_kg) for name, c in zip(_short_names(compared), compared, strict=True)
    ]
    traces = [_dots("difference", named, "circle", units)]
    rows = tuple(
        (_pair_words(c), f"{units.of(c.first_kg):.0f}", f"{units.of(c.second_kg):.0f}",
         f"{units.of(c.difference_kg):+.0f}", f"{units.of(c.low_kg):+.0f} to {units.of(c.high_kg):+.0f}",
         f"{100 * c.gain:+.1f} %", f"{c.first_sets} and {c.second_sets}")
        for c in compared
    )  # fmt: skip
    head = ("Compared", f"First, {units.name}", f"Second, {units.name}", "Difference", "Range", "Share", "Sets")
    caption = " ".join(_difference_words(c, units) for c in compared)
    if limit is not None:
        caption += (
            f" Grip is called limiting when straps surely add more than {percent(limit)} (a setting, common practice)."
        )
    frame = _lying_frame(f"Difference, {units.name}", len(compared))
    return card(key, title, caption, Table(head, rows), traces, frame)


def _dots(name: str, rows: Sequence[tuple[str, float, float, float]], symbol: str, units: Units) -> dict[str, Any]:
    """Points on level lines with their ranges."""
    return {
        "type": "scatter",
        "mode": "markers",
        "name": name,
        "x": [round(units.of(middle), 1) for _, middle, _, _ in rows],
        "y": [label for label, *_ in rows],
        "error_x": {
            "type": "data",
            "symmetric": False,
            "array": [round(units.of(high - middle), 1) for _, middle, _, high in rows],
            "arrayminus": [round(units.of(middle - low), 1) for _, middle, low, _ in rows],
            "color": INK,
        },
        "marker": {"symbol": symbol, "size": 11, "color": INK},
    }


def _lying_frame(title: str, lines: int) -> dict[str, Any]:
    return layout(
        axis(title, rangemode="tozero", zeroline=True, zerolinecolor=SOFT, zerolinewidth=2),
        axis("", type="category", autorange="reversed"),
        height=150 + 46 * lines,
        hovermode="closest",
        legend=LEGEND_ABOVE,
    )


def bar_words(bar: str) -> str:
    """A bar in trade words."""
    return BAR_WORDS.get(bar, f"{bar.replace('-', ' ')} bar")


def _short_names(compared: Sequence[Comparison]) -> list[str]:
    """Names for the axis: style and start, and bar or grip only where they differ; no two alike."""
    many_bars, many_grips = (len({getattr(c, name) for c in compared}) > 1 for name in ("bar", "first"))
    names: list[str] = []
    for c in compared:
        parts = [style_words(c.style), c.start or "floor"]
        if c.second == "straps":
            parts += [bar_words(c.bar)] * many_bars + [GRIP_WORDS.get(c.first, c.first)] * many_grips
        name = ", ".join(parts)
        names.append(name if name not in names else f"{name} ({len(names) + 1})")
    return names


def _pair_words(c: Comparison) -> str:
    style = style_words(c.style) + ("" if c.start in ("", "floor") else f", {c.start}")
    if c.second == "straps":
        return f"{style}, {bar_words(c.bar)}, {GRIP_WORDS.get(c.first, c.first)}"
    return f"{style}, {bar_words(c.second)} over {bar_words(c.first)}"


def _difference_words(c: Comparison, units: Units) -> str:
    what = "straps add" if c.second == "straps" else "difference"
    return (
        f"{_pair_words(c).capitalize()}: {what} {units.of(c.difference_kg):+.0f} {units.name} "
        f"({units.of(c.low_kg):+.0f} to {units.of(c.high_kg):+.0f}), {c.first_sets} and {c.second_sets} sets."
    )


def rises_card(
    curves: Sequence[tuple[str, str, Sequence[float], Sequence[float]]], loads: Units, heights: Units
) -> FigureCard:
    """Rise of the hands before the discs leave, over the load on the bar: (bar, style, loads kg, rises m) each."""
    traces = [
        {"type": "scatter", "mode": "lines", "name": f"{bar} bar, {style_words(style)} grip width",
         "x": [round(loads.of(kg)) for kg in kgs], "y": [round(heights.of(m), 2) for m in rises],
         "line": style_line(style) | {"dash": BAR_DASH[bar]}, "marker": {"symbol": STYLE_MARKER[style]}}
        for bar, style, kgs, rises in curves
    ]  # fmt: skip
    kgs = curves[0][2]
    rows = tuple((load_words(kg, loads), *(f"{heights.of(c[3][i]):.1f}" for c in curves)) for i, kg in enumerate(kgs))
    head = ("On the bar", *(f"{bar}, {style_words(style)}, {heights.name}" for bar, style, _, _ in curves))
    last = load_words(kgs[-1], loads)
    parts = "; ".join(
        f"{bar}, {style_words(style)} {heights.of(r[-1]):.1f} {heights.name}" for bar, style, _, r in curves
    )
    caption = f"At {last} the hands rise before the discs leave: {parts}. Beam theory; checked against no measured bar."
    frame = layout(
        axis(f"On the bar, {loads.name}"),
        axis(f"Rise of the hands, {heights.name}", rangemode="tozero"),
        legend=LEGEND_ABOVE,
    )
    return card("rises", "How far the hands rise before the discs leave", caption, Table(head, rows), traces, frame)
