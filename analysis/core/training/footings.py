"""Running bests grouped so that one figure holds only comparable series: equal in everything but the style."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta

from analysis.core.estimates.comparable import kind_key, kind_of, label
from analysis.core.records.estimates import ComparableKind, RealSingle, RunningBest
from analysis.core.records.training import BestSeries, Footing
from analysis.core.training.levels import Bests
from analysis.core.training.work import latest, thinned

MOST_FOOTINGS = 12
MOST_POINTS = 90  # of the last year, and again of the years before
MOST_SINGLES = 40
YEAR = timedelta(days=365)


def footings_of(bests: Bests) -> tuple[Footing, ...]:
    """All footings, most sessions first; of a log with very many kinds the MOST_FOOTINGS busiest."""
    groups: dict[ComparableKind, list[RunningBest]] = {}
    for kind, best in bests.items():
        groups.setdefault(_without_style(kind), []).append(best)
    found = [_footing(kind, group) for kind, group in groups.items()]
    return tuple(sorted(found, key=lambda f: -f.sessions)[:MOST_FOOTINGS])


def _without_style(kind: ComparableKind) -> ComparableKind:
    return kind_of(replace(kind.tags, style=""), (*kind.pooled, "style"))


def _footing(kind: ComparableKind, group: Iterable[RunningBest]) -> Footing:
    series = tuple(_series(best) for best in group)
    words = label(kind).removeprefix("any style, ").removesuffix(", any back shape")
    key = hashlib.sha256(kind_key(kind).encode()).hexdigest()[:10]
    name = f"deadlift, {words}" if kind.tags.lift == "deadlift" else words
    plain = kind.tags.start == "floor" and not (kind.tags.straps or kind.tags.suit)
    sessions = sum(s.sessions for s in series)
    return Footing(key, name.replace(", any back shape", ""), kind.tags.lift, plain, series, sessions)


def _series(best: RunningBest) -> BestSeries:
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
