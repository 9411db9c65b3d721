"""A line's cells by field, and who and when they are about."""

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from athletes.reader.columns import WHO_WHEN_WHAT
from athletes.reader.plan import ReadingPlan


class Context(NamedTuple):
    """Day ("" when each column has its own), athlete and lift name that all sets of a line share."""

    day: str
    athlete: int | None
    lift: str


class AdjacentCells(NamedTuple):
    """The cells that stand beside one load: effort, reps in reserve, result, reps tried, number of sets, note."""

    effort: str = ""
    rir: str = ""
    result: str = ""
    tried: str = ""
    sets: str = ""
    note: str = ""


class Cells:
    """The cells of one line, or of one table of several side by side, looked up by the field their column holds."""

    def __init__(self, raw: Sequence[str], plan: ReadingPlan, columns: frozenset[int] | None = None) -> None:
        self.by_field: dict[str, list[tuple[int, str]]] = {}
        self.raw, self.plan, self.only = raw, plan, columns
        for i, field in enumerate(plan.mapping):
            if field and i < len(raw) and raw[i].strip() and (columns is None or i in columns):
                self.by_field.setdefault(field, []).append((i, unguarded(raw[i].strip())))

    def first(self, field: str) -> str:
        """The first filled cell of a field, "" when there is none."""
        found = self.by_field.get(field)
        return found[0][1] if found else ""

    def all(self, field: str) -> list[tuple[int, str]]:
        """Column numbers and cells of a field."""
        return self.by_field.get(field, [])

    def columns(self, field: str) -> list[int]:
        """The columns of a field, filled or not."""
        return [i for i, f in enumerate(self.plan.mapping) if f == field and (self.only is None or i in self.only)]

    def at(self, column: int) -> str:
        """The cell of a column."""
        return unguarded(self.raw[column].strip()) if column < len(self.raw) else ""

    @property
    def unit_columns(self) -> tuple[str, ...]:
        return self.plan.units


@lru_cache(maxsize=256)
def blocks_of(mapping: tuple[str, ...]) -> tuple[frozenset[int], ...]:
    """The tables of a file side by side: a second column of dates, lifters or lifts begins the next one.

    Columns before the first of them belong to every table.
    """
    again = [field for field in mapping if field in WHO_WHEN_WHAT and mapping.count(field) > 1]
    if not again:
        return (frozenset(range(len(mapping))),)
    starts = [i for i, field in enumerate(mapping) if field == again[0]]
    shared = frozenset(range(starts[0]))
    ends = [*starts[1:], len(mapping)]
    return tuple(shared | frozenset(range(a, b)) for a, b in zip(starts, ends, strict=True))


def unguarded(text: str) -> str:
    """A cell without the apostrophe that keeps spreadsheets from taking it for a formula, or for a number."""
    told = TEXT_FORMULA.fullmatch(text)
    if told:
        return told[1]
    rest = text.lstrip("'" + UNSEEN)
    if text.startswith("'") and (rest[:1] in FORMULA_STARTS or rest[:1].isdigit()):
        return text[1:]
    return text


TEXT_FORMULA = re.compile(r'="([^"]*)"')  # how some programs keep a number a text
FORMULA_STARTS = tuple("=+-@\t\r＝＋－＠")
UNSEEN = "\ufeff\u200b\u00a0 "  # marks and spaces that spreadsheets drop before they look for a formula
