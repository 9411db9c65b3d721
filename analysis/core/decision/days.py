"""Days on which nothing is decided or tested, and the weeks of training a link between two looks."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta
from math import floor

from analysis.core.records.decision import WeekAhead
from analysis.core.settings import DEFAULTS, Settings

# Month and day; common practice, no source. What else a club keeps is its own list.
FIXED = ((1, 1), (12, 24), (12, 25), (12, 26), (12, 31))
TEST_BEFORE = timedelta(days=3)  # the last test leaves time to talk before the decision (common practice, no source)


def easter(year: int) -> date:
    """Easter Sunday of a year in the Gregorian calendar (the anonymous algorithm, Nature 1876)."""
    a, (b, c) = year % 19, divmod(year, 100)
    d, e = divmod(b, 4)
    g = (8 * b + 13) // 25
    h = (19 * a + b - d - g + 15) % 30
    i, k = divmod(c, 4)
    shift = (32 + 2 * e + 2 * i - h - k) % 7
    m = (a + 11 * h + 19 * shift) // 433
    month = (h + shift - 7 * m + 90) // 25
    return date(year, month, (h + shift - 7 * m + 33 * month + 19) % 32)


def holidays(years: Iterable[int], own: Iterable[date] = ()) -> frozenset[date]:
    """The fixed days, Good Friday to Easter Monday of each year, and a club's own days."""
    found = set(own)
    for year in years:
        found |= {date(year, *one) for one in FIXED}
        found |= {easter(year) + timedelta(days=step) for step in (-2, -1, 0, 1)}
    return frozenset(found)


def is_closed(day: date, closed: frozenset[date]) -> bool:
    """Whether nothing is decided on that day."""
    return day in closed or day.weekday() == 6


def working_day(day: date, closed: frozenset[date]) -> date:
    """The day itself, or the first after it that is open."""
    while is_closed(day, closed):
        day += timedelta(days=1)
    return day


def test_day(decision: date, closed: frozenset[date]) -> date:
    """The last open day that leaves time before a decision."""
    day = decision - TEST_BEFORE
    while is_closed(day, closed):
        day -= timedelta(days=1)
    return day


# first and last hard week, easy week: shares of the best of the style that is kept
PAUSED_TRIPLES = (0.70, 0.80, 0.65)
HOLDS = (0.80, 0.95, 0.70)
WORK = {"back": PAUSED_TRIPLES, "hips": PAUSED_TRIPLES, "grip": HOLDS}  # legs: squats, whose best is not known here
EASY_EVERY = 4


def weeks_ahead(link: str, best_kg: float | None, settings: Settings = DEFAULTS) -> tuple[WeekAhead, ...]:
    """The weeks of work for a link, loads to 2.5 kg; () where no load can be named from pulls."""
    if best_kg is None or link not in WORK:
        return ()
    first, last, easy = WORK[link]
    count = int(settings["style.train_weeks"])
    hard = [week for week in range(count) if (week + 1) % EASY_EVERY]
    step = (last - first) / max(len(hard) - 1, 1)
    shares = {week: first + step * place for place, week in enumerate(hard)}
    return tuple(WeekAhead(_plates(shares.get(week, easy) * best_kg), week not in shares) for week in range(count))


def _plates(load_kg: float) -> float:
    """The load rounded to 2.5 kg."""
    return floor(load_kg / 2.5 + 0.5) * 2.5
