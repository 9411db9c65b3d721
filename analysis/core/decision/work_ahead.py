"""Weeks of training a link: loads as shares of the best, every fourth week easy (common practice, no source)."""

from __future__ import annotations

from math import floor

from analysis.core.records.decision import WeekAhead
from analysis.core.settings import DEFAULTS, Settings

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
