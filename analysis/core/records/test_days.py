"""A test day of a trial: both styles on one day, in alternating order."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class TestDaySet:
    """One line of the sheet: style, share of that style's running best, reps, minutes of rest after it."""

    __test__ = False
    style: str
    share: float
    reps: int
    rest_minutes: int
    is_top: bool
    load_kg: float | None


@dataclass(frozen=True, slots=True)
class TestDaySheet:
    """The whole sheet, with words for the lifter and the rules that end the day."""

    __test__ = False
    order: tuple[str, ...]
    sets: tuple[TestDaySet, ...]
    words: tuple[str, ...]
    rules: tuple[str, ...]
