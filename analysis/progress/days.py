"""The latest training days of a log, one line each: what was pulled, made and missed, as it was typed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby

from athletes.log.words import pull_words, result_words
from athletes.models import Athlete, LiftSet
from athletes.models.choices import MissPosition, Result

DAYS = 5
MOST_ROWS = 80  # read for the latest days; a day of more sets than that shows the last of them
MOST_LOADS = 4  # of one pull on one line, the heaviest


@dataclass(frozen=True, slots=True)
class DayLine:
    """A day with its lifts in words, and what was missed or stopped, each as a tag."""

    day: date
    lifts: str
    tags: tuple[str, ...]


def latest_days(athlete: Athlete, unit: str, pain_shown: bool) -> list[DayLine]:
    """The latest days, newest first."""
    rows = list(athlete.sets.order_by("-day", "-order", "-pk")[:MOST_ROWS])
    days = [(day, list(sets)[::-1]) for day, sets in groupby(rows, key=lambda row: row.day)]
    return [day_line(day, sets, unit, pain_shown) for day, sets in days[:DAYS]]


def day_line(day: date, sets: Sequence[LiftSet], unit: str, pain_shown: bool) -> DayLine:
    """One day; made sets by pull, every other set as a tag."""
    made = [row for row in sets if row.result == Result.MADE]
    pulls: dict[str, list[LiftSet]] = {}
    for row in made:
        pulls.setdefault(short_pull(row), []).append(row)
    lifts = "; ".join(f"{name} {loads_words(rows, unit)}" for name, rows in pulls.items())
    tags = tuple(tag_words(row, unit, pain_shown) for row in sets if row.result != Result.MADE)
    return DayLine(day, lifts[:1].upper() + lifts[1:], tags)


def short_pull(row: LiftSet) -> str:
    """ "sumo" for a plain deadlift, else the pull in full without the word deadlift."""
    return pull_words(row).replace(" deadlift", "")


def loads_words(rows: Sequence[LiftSet], unit: str) -> str:
    """ "115 × 1, 122.5 × 1, 102.5 × 3 twice"; of many loads the heaviest and how many are lighter."""
    counted: dict[str, tuple[float, int]] = {}
    for row in rows:
        said = f"{load_words(row, unit)} × {row.reps_made}"
        counted[said] = (row.load_kg, counted.get(said, (0.0, 0))[1] + 1)
    heavy = sorted(counted, key=lambda said: -counted[said][0])[:MOST_LOADS]
    words = [said + times_words(counted[said][1]) for said in counted if said in heavy]
    lighter = sum(count for said, (_, count) in counted.items() if said not in heavy)
    return ", ".join(words) + (f", {lighter} lighter" if lighter else "")


def times_words(count: int) -> str:
    """How often the same set was done; nothing for once."""
    return {1: "", 2: " twice"}.get(count, f", {count} sets")


def load_words(row: LiftSet, unit: str) -> str:
    """The load as typed, with its unit where that is not the reader's."""
    return row.load_typed if row.load_unit == unit else f"{row.load_typed} {row.load_unit}"


def tag_words(row: LiftSet, unit: str, pain_shown: bool) -> str:
    """ "132.5 missed, below the knee"; a stop for pain reads as not tried to who may not read health."""
    words = f"{load_words(row, unit)} {result_words(row.result, pain_shown)}"
    stopped_at = row.result == Result.MISSED and row.miss_position
    return f"{words}, {MissPosition(row.miss_position).label}" if stopped_at else words
