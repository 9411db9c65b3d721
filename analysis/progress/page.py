"""The progress page of one viewer: the stored board, the chosen footing and span, and its panels."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import Any

from analysis.core.records.lifts import LifterRecord
from analysis.core.records.plain import to_plain
from analysis.core.records.training import Footing, ProgressBoard
from analysis.core.settings import Settings
from analysis.core.training.progress import progress_board
from analysis.figures.blocks import blocks_card
from analysis.figures.misses_over_time import misses_card
from analysis.figures.progress import now_words, progress_card
from analysis.figures.pull_time import timed_card
from analysis.figures.volume import volume_card
from analysis.figures.words import PLACE_WORDS, load_words, style_words
from analysis.progress.panel import Link, Panel, lengths, panel, weights
from athletes.models import User

SPANS = {"12w": timedelta(weeks=12), "1y": timedelta(days=365), "all": None}
SPAN_WORDS = (("1y", "the last year"), ("12w", "the last 12 weeks"), ("all", "the whole log"))
NO_BEST = (
    "Log sets of 1 to 8 reps with how they felt (RPE 7 or more), or a single with nothing left, and with style, bar "
    "and grip: each is one point of this line."
)
NO_MISS = "No missed pull is logged in this span. When one happens, note where the bar stopped and what gave way."
NO_WORK = "No pull is logged in this span. Every made set counts here, light ones too."
NO_TIME = (
    "Note the seconds from floor to lockout of the same load on three days or more (a phone's video is enough): the "
    "same load getting slower shows tiredness before the load does."
)
NO_HEIGHTS = (
    "Log pulls of one style from a second start height (block or deficit, in cm) to see where the pull is hard."
)


def compute_progress(lifter: LifterRecord, as_of: date, numbers: Settings) -> dict[str, Any]:
    """The board of one athlete as plain data to be stored."""
    board: dict[str, Any] = to_plain(progress_board(lifter, as_of, numbers))
    return board


def chosen_footing(board: ProgressBoard, key: str) -> Footing | None:
    """The footing with that key, else the busiest of plain floor pulls, of pulls, of all."""
    pulls = [f for f in board.footings if f.lift == "deadlift"]
    ranked = [f for f in board.footings if f.key == key] + [f for f in pulls if f.plain] + pulls + list(board.footings)
    return next(iter(ranked), None)


def headline(footing: Footing | None, as_of: date, viewer: User) -> list[str]:
    """The answer in a sentence a style."""
    return [] if footing is None else [now_words(s, as_of, weights(viewer)) for s in footing.series]


def progress_panels(board: ProgressBoard, footing: Footing | None, span: str, viewer: User) -> list[Panel]:
    """Every part of the page, figures or empty states, in the order of the page."""
    reach = SPANS[span]
    since = None if reach is None else board.as_of - reach
    return [
        _best(board, footing, since, viewer),
        _misses(board, since),
        _work(board, since, viewer),
        _times(board, viewer),
        _heights(board, viewer),
    ]


def _best(board: ProgressBoard, footing: Footing | None, since: date | None, viewer: User) -> Panel:
    figures = [progress_card(footing, since, board.as_of, weights(viewer))] if footing else []
    links = [
        Link(f"{style_words(s.style) if s.style else found.lift}: the latest {len(s.set_keys)} rows", s.set_keys)
        for found in ([footing] if footing else [])
        for s in found.series
    ]
    return panel("best", "Is it moving?", figures, NO_BEST, links=links)


def _misses(board: ProgressBoard, since: date | None) -> Panel:
    step = board.long_period if since is None else "month"
    periods = [p for p in (board.misses_all if since is None else board.misses_recent) if _in(p.begins, since, 31)]
    shown = any(sum(p.counts) for p in periods)
    links = [_place_link(place.position, place.count, place.set_keys) for place in board.miss_places]
    links.append(Link("all missed pulls in the list of lifts", query="lift=deadlift&result=missed"))
    return panel("misses", "Where do pulls stop?", [misses_card(periods, step)] if shown else [], NO_MISS, links=links)


def _place_link(position: str, count: int, keys: Sequence[str]) -> Link:
    some = f"latest {len(keys)} of {count}" if len(keys) < count else str(count)
    return Link(f"{PLACE_WORDS[position]}, whole log: {some}", tuple(keys))


def _in(begins: date, since: date | None, length: int) -> bool:
    """Whether a period that begins on a day reaches into the span."""
    return since is None or begins + timedelta(days=length) > since


def _work(board: ProgressBoard, since: date | None, viewer: User) -> Panel:
    step = board.long_period if since is None else "week"
    periods = [p for p in (board.work_all if since is None else board.work_recent) if _in(p.begins, since, 7)]
    shown = any(sum(p.reps) for p in periods)
    figures = [volume_card(periods, step, weights(viewer))] if shown else []
    query = "lift=deadlift" if since is None else f"lift=deadlift&since={since.isoformat()}"
    return panel(
        "work", "How much, and how heavy?", figures, NO_WORK, links=[Link("these pulls in the list", query=query)]
    )


def _times(board: ProgressBoard, viewer: User) -> Panel:
    units = weights(viewer)
    figures = [timed_card(board.timed, units)] if board.timed else []
    links = [Link(f"{t.label}, about {load_words(t.load_kg, units)}", t.set_keys) for t in board.timed]
    return panel("time", "Is the same load getting slower?", figures, NO_TIME, links=links)


def _heights(board: ProgressBoard, viewer: User) -> Panel:
    figures = [blocks_card(board.starts, weights(viewer), lengths(viewer))] if board.starts else []
    unit = lengths(viewer)
    links = [
        Link(f"{style_words(s.style)} {unit.of(h.height_m):+.0f} {unit.name}: {len(h.set_keys)} rows", h.set_keys)
        for s in board.starts
        for h in s.heights
    ]
    return panel("heights", "What does the start height change?", figures, NO_HEIGHTS, links=links)
