"""Running bests grouped so that one figure holds only comparable series: equal in everything but the style."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, timedelta

from analysis.core.estimates.comparable import kind_key, kind_of, label
from analysis.core.estimates.effort import rpe_of
from analysis.core.estimates.misses import position_of
from analysis.core.records.estimates import ComparableKind, RealSingle, RunningBest
from analysis.core.records.lifts import SetRecord
from analysis.core.records.training import BestSeries, EffortMark, Footing, MissMark
from analysis.core.training.levels import POOLED, Bests
from analysis.core.training.movement import movement_of
from analysis.core.training.work import latest, thinned

MOST_FOOTINGS = 12
MOST_POINTS = 90  # of the last year, and again of the years before
MOST_SINGLES = 40
MOST_MARKS = 60  # misses, and sets with their effort, of a style
MOST_REPS = 3  # of a set whose effort stands against its load
YEAR = timedelta(days=365)
ANY_KIT = ("bar", "belt", "grip", "shape")  # a miss stays in view whatever was worn or held
ByKind = dict[ComparableKind, list[SetRecord]]


def footings_of(bests: Bests, sets: Sequence[SetRecord]) -> tuple[Footing, ...]:
    """All footings, most sessions first; of a log with very many kinds the MOST_FOOTINGS busiest."""
    missed, made = _by_kind((s for s in sets if s.result == "missed"), ANY_KIT), _by_kind(_telling(sets), POOLED)
    groups: dict[ComparableKind, list[RunningBest]] = {}
    for kind, best in bests.items():
        groups.setdefault(_without_style(kind), []).append(best)
    found = [_footing(kind, group, missed, made) for kind, group in groups.items()]
    return tuple(sorted(found, key=lambda f: -f.sessions)[:MOST_FOOTINGS])


def _without_style(kind: ComparableKind) -> ComparableKind:
    return kind_of(replace(kind.tags, style=""), (*kind.pooled, "style"))


def _telling(sets: Iterable[SetRecord]) -> list[SetRecord]:
    """Made sets of few reps whose effort or pull time was noted."""
    few = [s for s in sets if s.result == "made" and 1 <= s.reps_made <= MOST_REPS]
    return [s for s in few if s.pull_seconds is not None or rpe_of(s) is not None]


def _by_kind(sets: Iterable[SetRecord], pooled: tuple[str, ...]) -> ByKind:
    found: ByKind = {}
    for one in sets:
        found.setdefault(kind_of(one.tags, pooled), []).append(one)
    return found


def _footing(kind: ComparableKind, group: Iterable[RunningBest], missed: ByKind, made: ByKind) -> Footing:
    series = tuple(
        _series(best, missed.get(kind_of(best.kind.tags, ANY_KIT), []), made.get(best.kind, [])) for best in group
    )
    words = label(kind).removeprefix("any style, ").removesuffix(", any back shape")
    key = hashlib.sha256(kind_key(kind).encode()).hexdigest()[:10]
    name = f"deadlift, {words}" if kind.tags.lift == "deadlift" else words
    plain = kind.tags.start == "floor" and not (kind.tags.straps or kind.tags.suit)
    sessions = sum(s.sessions for s in series)
    return Footing(key, name.replace(", any back shape", ""), kind.tags.lift, plain, series, sessions)


def _series(best: RunningBest, missed: Sequence[SetRecord], made: Sequence[SetRecord]) -> BestSeries:
    drawn = _drawn(best.days, best.as_of)
    return BestSeries(
        style=best.kind.tags.style,
        label=best.label,
        days=tuple(best.days[i] for i in drawn),
        level_kg=tuple(round(best.level_kg[i], 1) for i in drawn),
        low_kg=tuple(round(best.low_kg[i], 1) for i in drawn),
        high_kg=tuple(round(best.high_kg[i], 1) for i in drawn),
        singles=_singles(best),
        sessions=best.day_count,
        sets=len(best.points),
        unused=len(best.unused),
        set_keys=latest([p.key for p in best.points]),
        movement=movement_of(best),
        idle_days=(best.as_of - max((p.day for p in best.points), default=best.days[0])).days,
        misses=tuple(MissMark(s.day, s.load_kg, position_of(s), s.key) for s in missed[-MOST_MARKS:]),
        efforts=tuple(
            EffortMark(s.day, s.load_kg, s.reps_made, rpe_of(s), s.pull_seconds, s.key)
            for s in [one for one in made if one.day > best.as_of - YEAR][-MOST_MARKS:]
        ),
    )


def _drawn(days: tuple[date, ...], as_of: date) -> list[int]:
    """Places to draw: the last year and the years before, each thinned by itself."""
    before = sum(1 for day in days if day < as_of - YEAR)
    return thinned(before, MOST_POINTS) + [before + i for i in thinned(len(days) - before, MOST_POINTS)]


def _singles(best: RunningBest) -> tuple[RealSingle, ...]:
    """Real singles to draw: each that beat all before it, then the latest, by day."""
    rising, top = [], 0.0
    for one in best.singles:
        if one.load_kg > top:
            top = one.load_kg
            rising.append(one)
    chosen = {one.key: one for one in (*rising[-MOST_SINGLES // 2 :], *best.singles[-MOST_SINGLES // 2 :])}
    return tuple(sorted(chosen.values(), key=lambda one: one.day))
