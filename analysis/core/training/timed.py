"""Seconds from floor to lockout: at the same load over time, and by style and share of the running best."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from analysis.core.estimates.comparable import group_sets, label
from analysis.core.estimates.grip_and_bar import pull_times
from analysis.core.records.estimates import ComparableKind
from analysis.core.records.lifts import SetRecord
from analysis.core.records.training import PullTime, TimedLoad
from analysis.core.settings import DEFAULTS, Settings
from analysis.core.training.levels import POOLED
from analysis.core.training.work import latest

MOST_LOADS = 4
MOST_TIMES = 40
LEAST_DAYS = 3  # fewer days at a load draw no line


def timed_loads(sets: Sequence[SetRecord], settings: Settings = DEFAULTS) -> tuple[TimedLoad, ...]:
    """The loads timed on most days, each of one comparable kind and one load within the setting."""
    timed = [s for s in sets if s.tags.lift == "deadlift" and s.result == "made" and s.pull_seconds]
    found = []
    for kind, group in group_sets(timed, POOLED).items():
        for cluster in _same_load(group, settings["load.same_load"]):
            if len({s.day for s in cluster}) >= LEAST_DAYS:
                found.append(_timed(kind, cluster))
    return tuple(sorted(found, key=lambda t: -len(t.days))[:MOST_LOADS])


def _same_load(group: Sequence[SetRecord], within: float) -> list[list[SetRecord]]:
    """Sets split where the load rises by more than `within` over the lightest of the cluster."""
    clusters: list[list[SetRecord]] = []
    for one in sorted(group, key=lambda s: s.load_kg):
        if clusters and one.load_kg <= clusters[-1][0].load_kg * (1.0 + within):
            clusters[-1].append(one)
        else:
            clusters.append([one])
    return clusters


def _timed(kind: ComparableKind, cluster: Sequence[SetRecord]) -> TimedLoad:
    """One load's quickest time a day, the latest days."""
    tags = kind.tags
    quickest: dict[date, float] = {}
    for one in cluster:
        seconds = one.pull_seconds or 0.0
        quickest[one.day] = min(seconds, quickest.get(one.day, seconds))
    days = sorted(quickest)[-MOST_TIMES:]
    keys = [s.key for s in sorted(cluster, key=lambda s: s.day)]
    middle = sorted(s.load_kg for s in cluster)[len(cluster) // 2]
    return TimedLoad(
        tags.style,
        label(kind),
        tags.bar,
        tags.straps,
        middle,
        tuple(days),
        tuple(quickest[d] for d in days),
        latest(keys),
    )


def times_by_style(sets: Sequence[SetRecord], shares: Mapping[str, float]) -> tuple[PullTime, ...]:
    """Median seconds by style and share of the running best."""
    return tuple(PullTime(*row) for row in pull_times(sets, shares))
