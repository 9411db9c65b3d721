"""Missed pulls by the position of the bar, over time and in sum."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import date

from analysis.core.estimates.misses import position_of
from analysis.core.records.lifts import SetRecord
from analysis.core.records.terms import MISS_POSITIONS
from analysis.core.records.training import MissPeriod, MissPlace
from analysis.core.training.work import STEPS, begins_between, latest

PLACES = (*MISS_POSITIONS, "")  # "" = position not noted


def missed_pulls(sets: Sequence[SetRecord]) -> list[SetRecord]:
    """Deadlifts that were missed for strength, balance or grip; no-lifts, pain and sets not tried are no misses."""
    return [s for s in sets if s.tags.lift == "deadlift" and s.result == "missed"]


def miss_periods(sets: Sequence[SetRecord], first: date, last: date, step: str) -> tuple[MissPeriod, ...]:
    """Counts by position of every period of the span, empty ones too."""
    counts = Counter((STEPS[step](s.day), position_of(s)) for s in missed_pulls(sets) if first <= s.day <= last)
    return tuple(
        MissPeriod(begins, tuple(counts[begins, place] for place in PLACES))
        for begins in begins_between(first, last, step)
    )


def miss_places(sets: Sequence[SetRecord]) -> tuple[MissPlace, ...]:
    """One row a position that has a miss, from the floor upwards, position not noted last."""
    found = []
    for place in PLACES:
        here = [s for s in missed_pulls(sets) if position_of(s) == place]
        if here:
            days = {s.day for s in here}
            found.append(MissPlace(place, len(here), len(days), max(days), latest([s.key for s in here])))
    return tuple(found)
