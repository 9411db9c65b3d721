"""Weeks, months and quarters: the day each begins, and thinning of long series for drawing."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date, timedelta
from typing import TypeVar

T = TypeVar("T")
MOST_PERIODS = 40
LINKED_ROWS = 24  # rows a link opens: more would make the address too long for web servers


def week_of(day: date) -> date:
    """The Monday on or before a day."""
    return day - timedelta(days=day.weekday())


def month_of(day: date) -> date:
    """The first day of a month."""
    return day.replace(day=1)


def quarter_of(day: date) -> date:
    """The first day of a quarter."""
    return day.replace(month=3 * ((day.month - 1) // 3) + 1, day=1)


def year_of(day: date) -> date:
    """The first day of a year."""
    return day.replace(month=1, day=1)


STEPS: dict[str, Callable[[date], date]] = {
    "week": week_of, "month": month_of, "quarter": quarter_of, "year": year_of
}  # fmt: skip


def next_begin(begins: date, step: str) -> date:
    """The day the period after this one begins."""
    ahead = {"week": 7, "month": 32, "quarter": 93, "year": 370}[step]
    return STEPS[step](begins + timedelta(days=ahead))


def step_for(first: date, last: date) -> str:
    """The shortest period that cuts a span into at most MOST_PERIODS pieces."""
    days = (last - first).days
    for step, length in (("week", 7), ("month", 30.4), ("quarter", 91.3)):
        if days / length <= MOST_PERIODS:
            return step
    return "year"


def begins_between(first: date, last: date, step: str) -> list[date]:
    """The begin of every period from the one of `first` to the one of `last`."""
    begins = [STEPS[step](first)]
    while (following := next_begin(begins[-1], step)) <= last:
        begins.append(following)
    return begins


def thinned(count: int, most: int) -> list[int]:
    """At most `most` places out of `count`, evenly spread, first and last kept."""
    if count <= most:
        return list(range(count))
    return sorted({round(i * (count - 1) / (most - 1)) for i in range(most)})


def latest(items: Sequence[T], most: int = LINKED_ROWS) -> tuple[T, ...]:
    """The last `most` of a sequence."""
    return tuple(items[-most:])
