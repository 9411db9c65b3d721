"""Intensity and volume of pulls: reps by share of the running best, tonnes, mean share, by period."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from datetime import date

from analysis.core.records.lifts import SetRecord
from analysis.core.records.training import INTENSITY_BANDS, WorkPeriod
from analysis.core.training.work import STEPS, begins_between

EDGES = (0.70, 0.80, 0.90)


def band_of(share: float | None) -> int:
    """Place in INTENSITY_BANDS."""
    return len(INTENSITY_BANDS) - 1 if share is None else bisect_right(EDGES, share)


def work_periods(
    sets: Sequence[SetRecord], shares: Mapping[str, float], first: date, last: date, step: str
) -> tuple[WorkPeriod, ...]:
    """Reps made in deadlifts of every period of the span; missed reps are no work done and do not count."""
    groups: dict[date, list[SetRecord]] = {begins: [] for begins in begins_between(first, last, step)}
    for one in sets:
        if one.tags.lift == "deadlift" and first <= one.day <= last and one.reps_made:
            groups[STEPS[step](one.day)].append(one)
    return tuple(_period(begins, rows, shares) for begins, rows in groups.items())


def _period(begins: date, rows: Sequence[SetRecord], shares: Mapping[str, float]) -> WorkPeriod:
    reps = [0] * len(INTENSITY_BANDS)
    for one in rows:
        reps[band_of(shares.get(one.key))] += one.reps_made
    known = [(shares[s.key], s.reps_made) for s in rows if s.key in shares]
    total = sum(n for _, n in known)
    mean = sum(share * n for share, n in known) / total if total else None
    tonnes = sum(s.load_kg * s.reps_made for s in rows) / 1000.0
    return WorkPeriod(begins, tuple(reps), round(tonnes, 3), None if mean is None else round(mean, 4))
