"""The log of one viewer: heading from the numbers, the figure on one time axis, closed lines with their gist."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from analysis.core.records.lifts import LifterRecord
from analysis.core.records.plain import to_plain
from analysis.core.records.training import BackReview, Footing, ProgressBoard
from analysis.core.settings import Settings
from analysis.core.training.progress import progress_board
from analysis.figures.blocks import blocks_card
from analysis.figures.card import FigureCard
from analysis.figures.misses_over_time import misses_card
from analysis.figures.progress import Event, Span, Weeks, log_card, now_words
from analysis.figures.pull_time import effort_card, timed_card
from analysis.figures.volume import volume_card
from analysis.figures.words import PLACE_WORDS, lifted_words, load_words, style_words
from analysis.progress.panel import Link, Panel, lengths, panel, weights
from athletes.models import Athlete, User

SPANS = {"12w": timedelta(weeks=12), "1y": timedelta(days=365), "all": None}
SPAN_WORDS = (("1y", "the last year"), ("12w", "the last 12 weeks"), ("all", "the whole log"))
NEW = timedelta(weeks=4)  # a best single is called new for so long
NO_EFFORT = "Note reps left or RPE with each heavy set, and seconds from floor to lockout where a phone filmed it."
NO_MISS = "No missed pull in this span. When one happens, note where the bar stopped and what was seen."
NO_WORK = "No pull in this span. Every made set counts here, light ones too."
NO_TIME = (
    "Note the seconds from floor to lockout of the same load on three days or more: the same load getting slower "
    "shows tiredness before the load does."
)
NO_HEIGHTS = "Log pulls of one style from a second start height (block or deficit, in cm)."


@dataclass(frozen=True, slots=True)
class Line:
    """One closed line of the page: its name, its gist, and the panel it opens."""

    name: str
    gist: str
    panel: Panel


def compute_progress(lifter: LifterRecord, as_of: date, numbers: Settings) -> dict[str, Any]:
    """The board of one athlete as plain data to be stored."""
    board: dict[str, Any] = to_plain(progress_board(lifter, as_of, numbers))
    return board


def chosen_footing(board: ProgressBoard, key: str) -> Footing | None:
    """The footing with that key, else the busiest of plain floor pulls, of pulls, of all."""
    pulls = [f for f in board.footings if f.lift == "deadlift"]
    ranked = [f for f in board.footings if f.key == key] + [f for f in pulls if f.plain] + pulls + list(board.footings)
    return next(iter(ranked), None)


def span_of(board: ProgressBoard, span: str) -> Span:
    """The days of a choice."""
    reach = SPANS[span]
    return Span(None if reach is None else board.as_of - reach, board.as_of)


def events_of(athlete: Athlete) -> list[Event]:
    """Trials that began and meets, by day."""
    trials = athlete.trials.values_list("started_on", "new_style")
    found = [Event(day, "trial begins", f"trial of {style_words(style)} begins") for day, style in trials]
    meets = athlete.meet_entries.values_list("meet__day", "meet__name")
    return sorted([*found, *(Event(day, "meet", name) for day, name in meets)], key=lambda one: one.day)


def weeks_of(review: BackReview | None) -> Weeks | None:
    """Hard reps by week for the figure; None where the body allows no review or nothing loaded the back."""
    if review is None or not any(week.by_lift for week in review.weeks):
        return None
    reps = tuple(sum(load for _, load in week.by_lift) / review.capacity_nm for week in review.weeks)
    return Weeks(tuple(week.begins for week in review.weeks), reps, review.heavy)


def main_figure(
    footing: Footing | None, span: Span, viewer: User, events: Iterable[Event], weeks: Weeks | None
) -> FigureCard | None:
    """The picture of the page; None while nothing is heavy enough for a best."""
    return None if footing is None else log_card(footing, span, weights(viewer), events, weeks)


def details_of(footing: Footing | None, as_of: date, viewer: User) -> list[str]:
    """A sentence a style on what its line rests on."""
    return [] if footing is None else [now_words(s, as_of, weights(viewer)) for s in footing.series]


def log_lines(board: ProgressBoard, footing: Footing | None, span: Span, viewer: User) -> list[Line]:
    """The closed lines that open a figure, or say what to log."""
    return [
        _effort(board, footing, viewer),
        _misses(board, span.since),
        _work(board, span.since, viewer),
        _times(board, viewer),
        _heights(board, viewer),
    ]


@dataclass(frozen=True, slots=True)
class SingleRow:
    """A style's best single from the floor: load in words, day, and how many days its line rests on."""

    style: str
    load: str
    on: date | None
    fresh: bool
    days: int
    key: str


def best_singles(board: ProgressBoard, viewer: User) -> list[SingleRow]:
    """One row a style, whatever bar, belt and grip; straps and suits apart."""
    series = [s for f in board.footings if f.plain and f.lift == "deadlift" for s in f.series]
    found = []
    for style in dict.fromkeys(s.style for s in series):
        mine = [s for s in series if s.style == style]
        top = max((one for s in mine for one in s.singles), key=lambda one: one.load_kg, default=None)
        load = lifted_words(top.load_kg, weights(viewer)) if top else "none logged"
        fresh = top is not None and top.day > board.as_of - NEW
        days = sum(s.sessions for s in mine)
        found.append(SingleRow(style, load, top.day if top else None, fresh, days, top.key if top else ""))
    return found


def best_links(footing: Footing | None) -> list[Link]:
    """The rows behind each line of the picture."""
    series = footing.series if footing else ()
    return [
        Link(f"{style_words(s.style) if s.style else s.label}: the latest {len(s.set_keys)} rows", s.set_keys)
        for s in series
    ]


def _effort(board: ProgressBoard, footing: Footing | None, viewer: User) -> Line:
    figure = effort_card(footing.series, board.as_of, weights(viewer)) if footing else None
    count = sum(len(s.efforts) for s in footing.series) if footing else 0
    gist = f"{count} sets with effort noted" if count else "not noted yet"
    return Line("Load against effort", gist, panel("effort", "", [figure] if figure else [], NO_EFFORT))


def _misses(board: ProgressBoard, since: date | None) -> Line:
    step = board.long_period if since is None else "month"
    periods = [p for p in (board.misses_all if since is None else board.misses_recent) if _in(p.begins, since, 31)]
    sums = [sum(p.counts[i] for p in periods) for i in range(len(PLACE_WORDS))]
    links = [_place_link(place.position, place.count, place.set_keys) for place in board.miss_places]
    links.append(Link("all missed pulls in the list of sets", query="lift=deadlift&result=missed"))
    figures = [misses_card(periods, step)] if sum(sums) else []
    gist = "none in this span"
    if figures:
        most = max(range(len(sums)), key=lambda i: sums[i])
        gist = f"{sum(sums)} missed, {sums[most]} {list(PLACE_WORDS.values())[most]}"
    return Line("Where pulls stop", gist, panel("misses", "", figures, NO_MISS, links=links))


def _place_link(position: str, count: int, keys: Sequence[str]) -> Link:
    some = f"latest {len(keys)} of {count}" if len(keys) < count else str(count)
    return Link(f"{PLACE_WORDS[position]}, whole log: {some}", tuple(keys))


def _in(begins: date, since: date | None, length: int) -> bool:
    """Whether a period that begins on a day reaches into the span."""
    return since is None or begins + timedelta(days=length) > since


def _work(board: ProgressBoard, since: date | None, viewer: User) -> Line:
    step = board.long_period if since is None else "week"
    periods = [p for p in (board.work_all if since is None else board.work_recent) if _in(p.begins, since, 7)]
    reps = sum(sum(p.reps) for p in periods)
    figures = [volume_card(periods, step, weights(viewer))] if reps else []
    query = "lift=deadlift" if since is None else f"lift=deadlift&since={since.isoformat()}"
    links = [Link("these pulls in the list of sets", query=query)]
    gist = f"{reps} reps, {sum(p.reps[3] for p in periods)} at 90 % or more" if reps else "no pull in this span"
    return Line("How much, how heavy", gist, panel("work", "", figures, NO_WORK, links=links))


def _times(board: ProgressBoard, viewer: User) -> Line:
    units = weights(viewer)
    figures = [timed_card(board.timed, units)] if board.timed else []
    links = [Link(f"{t.label}, about {load_words(t.load_kg, units)}", t.set_keys) for t in board.timed]
    gist = "not noted yet"
    if board.timed:
        one = board.timed[0]
        gist = f"{load_words(one.load_kg, units)} in {one.seconds[-1]:.1f} s, first {one.seconds[0]:.1f}"
    return Line("Pull time at the same load", gist, panel("time", "", figures, NO_TIME, links=links))


def _heights(board: ProgressBoard, viewer: User) -> Line:
    figures = [blocks_card(board.starts, weights(viewer), lengths(viewer))] if board.starts else []
    unit = lengths(viewer)
    links = [
        Link(f"{style_words(s.style)} {unit.of(h.height_m):+.0f} {unit.name}: {len(h.set_keys)} rows", h.set_keys)
        for s in board.starts
        for h in s.heights
    ]
    others = sum(1 for s in board.starts for h in s.heights if h.height_m)
    gist = f"floor and {others} other start{'s' if others != 1 else ''}" if board.starts else "floor only"
    return Line("Blocks and deficits", gist, panel("heights", "", figures, NO_HEIGHTS, links=links))
