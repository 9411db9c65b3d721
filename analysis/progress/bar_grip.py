"""The bar and grip page of one viewer: statics beside the log, straps, pull time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from math import ceil
from typing import Any

from analysis.core.records.lifts import LifterRecord
from analysis.core.records.messages import Message, kg
from analysis.core.records.plain import to_plain
from analysis.core.records.training import BarGain, BarGripBoard, GripBest
from analysis.core.records.weak_link import StrengthRange
from analysis.core.settings import Settings
from analysis.core.training.bar_gain import ABOUT_NOTHING, PRACTICE_WORDS, rise_curves
from analysis.core.training.bar_grip import bar_grip_board
from analysis.figures.bar import GRIP_WORDS, bar_words, comparison_card, gains_card, hands_card, rises_card
from analysis.figures.pull_time import style_times_card
from analysis.figures.words import load_words, span_words, style_words
from analysis.progress.panel import Link, Panel, lengths, panel, weights
from analysis.progress.stored import record_from
from athletes.models import User

RISE_LOADS_KG = (60.0, 100.0, 140.0, 180.0, 220.0, 260.0, 300.0)
NO_BARS = (
    "Log heavy sets of one style on a stiff and on a flexible bar, same grip and belt, three sets on each: the "
    "difference in kg then stands here with its range."
)
NO_STRAPS = (
    "Log heavy sets of one style and bar with straps and without: what straps add says whether the grip limits, and "
    "nothing else does."
)
NO_TIMES = "Note the seconds from floor to lockout of single heavy pulls (a phone's video is enough), in each style."


@dataclass(frozen=True, slots=True)
class BestRow:
    """A running best in words, with the rows behind it."""

    style: str
    bar: str
    grip: str
    straps: str
    now: str
    span: str
    sets: int
    keys: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BarGripPage:
    """What the page says to one viewer."""

    board: BarGripBoard
    heading: Message
    ground: Message
    panels: tuple[Panel, ...]
    bests: tuple[BestRow, ...]
    practice: str
    light: bool


def compute_bar_grip(
    lifter: LifterRecord, as_of: date, numbers: Settings, strengths: Sequence[StrengthRange]
) -> dict[str, Any]:
    """The board of one athlete as plain data to be stored."""
    board: dict[str, Any] = to_plain(bar_grip_board(lifter, as_of, numbers, strengths))
    return board


def bar_grip_page(payload: dict[str, Any], limit: float, viewer: User) -> BarGripPage:
    """The page from a stored board; `limit` is the gain with straps from which grip is called limiting."""
    board = record_from(BarGripBoard, payload)
    said = heading(board)
    return BarGripPage(
        board=board,
        heading=said[0],
        ground=said[1],
        panels=(_gains(board, viewer), _bars(board, viewer), _straps(board, limit, viewer), _times(board)),
        bests=tuple(_best(one, viewer) for one in board.bests),
        practice=PRACTICE_WORDS,
        light=bool(board.gains) and all(g.gain_kg < ABOUT_NOTHING * g.load_kg for g in board.gains),
    )


def heading(board: BarGripBoard) -> tuple[Message, Message]:
    """What limits or adds most: the grip where straps surely add, else a flexible bar by statics."""
    if not board.pulls:
        return Message("bar.no-pull"), Message("bar.no-pull.ground")
    if board.straps and any(one.code == "grip-limits" for one in board.findings):
        most = max(board.straps, key=lambda c: c.difference_kg)
        gain = kg(most.difference_kg, most.low_kg, most.high_kg)
        return Message("bar.grip", {"gain": gain, "style": most.style}), Message("bar.grip.ground")
    if not board.gains:
        return Message("bar.unknown"), Message("bar.unknown.ground")
    best = max(board.gains, key=lambda g: g.gain_kg)
    ground = Message("bar.ground", {"load": kg(best.load_kg)})
    if best.gain_kg < ABOUT_NOTHING * best.load_kg:
        return Message("bar.nothing", {"limit": kg(float(ceil(max(g.high_kg for g in board.gains))))}), ground
    return Message("bar.adds", {"gain": kg(best.gain_kg, best.low_kg, best.high_kg), "style": best.style}), ground


def _gains(board: BarGripBoard, viewer: User) -> Panel:
    loads, heights = weights(viewer), lengths(viewer)
    figures = []
    if board.gains:
        hands = [hands_card(g, loads, heights) for g in board.gains]
        figures = [gains_card(board.gains, loads), *hands, rises_card(rise_curves(RISE_LOADS_KG), loads, heights)]
    links = [Link(f"{style_words(g.style)}: the compared rows", g.logged.set_keys) for g in board.gains if g.logged]
    return panel(
        "gain",
        "A flexible bar, on paper",
        figures,
        board.why_no_gain,
        _from_words(board.gains),
        links,
    )


def _from_words(gains: tuple[BarGain, ...]) -> str:
    """The load of each style."""
    return " ".join(f"{style_words(g.style).capitalize()} at {g.load_from}." for g in gains)


def _bars(board: BarGripBoard, viewer: User) -> Panel:
    title = "Flexible against stiff bar, logged"
    figures = [comparison_card("bars", title, board.bars, None, weights(viewer))] if board.bars else []
    links = [Link(f"{style_words(c.style)}: the compared rows", c.set_keys) for c in board.bars]
    return panel("bars", "A flexible bar, by the log", figures, NO_BARS, links=links)


def _straps(board: BarGripBoard, limit: float, viewer: User) -> Panel:
    title = "With straps against the own grip"
    figures = [comparison_card("straps", title, board.straps, limit, weights(viewer))] if board.straps else []
    links = [Link(f"{style_words(c.style)}, {bar_words(c.bar)}: the compared rows", c.set_keys) for c in board.straps]
    return panel("straps", "Straps against the own grip", figures, NO_STRAPS, links=links)


def _times(board: BarGripBoard) -> Panel:
    figures = [style_times_card(board.times)] if board.times else []
    return panel("times", "Pull time by style", figures, NO_TIMES)


def _best(one: GripBest, viewer: User) -> BestRow:
    units = weights(viewer)
    return BestRow(
        style_words(one.style),
        bar_words(one.bar),
        GRIP_WORDS.get(one.grip, one.grip),
        "with straps" if one.straps else "no straps",
        load_words(one.now_kg, units),
        span_words(one.low_kg, one.high_kg, units),
        one.sets,
        one.set_keys,
    )
