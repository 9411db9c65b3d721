"""Find logged misses of a squad, each with its share of the best pull made in that style before."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby

from django.db.models import Max, QuerySet

from athletes.models import Athlete, LiftSet
from athletes.models.choices import Lift, Result

Sort = tuple[int, str, str]  # athlete, style, start


@dataclass(frozen=True, slots=True)
class MissQuery:
    """What is looked for; empty strings and None ask for everything."""

    since: date
    position: str = ""
    gave_way: str = ""
    style: str = ""
    share: int | None = None


@dataclass(frozen=True, slots=True)
class Found:
    """One miss that fits, before its row is read."""

    pk: int
    sort: Sort
    day: date
    load_kg: float


def find_misses(athletes: QuerySet[Athlete], asked: MissQuery) -> list[Found]:
    """All missed pulls that fit, newest first."""
    rows = LiftSet.objects.filter(athlete__in=athletes, lift=Lift.DEADLIFT, result=Result.MISSED, day__gte=asked.since)
    for field in ("gave_way", "style"):
        if getattr(asked, field):
            rows = rows.filter(**{field: getattr(asked, field)})
    if asked.position:
        rows = rows.filter(miss_position=asked.position)
    plain = rows.order_by("-day", "-pk").values_list("pk", "athlete_id", "style", "start", "day", "load_kg")
    found = [Found(pk, (athlete, style, start), day, kg) for pk, athlete, style, start, day, kg in plain]
    if not asked.share:
        return found
    shares = shares_of(found)
    return [one for one in found if (shares[one.pk] or 0.0) >= asked.share]


def shares_of(misses: Sequence[Found]) -> dict[int, float | None]:
    """By the miss's pk its load in percent of the heaviest pull made before its day; None without one.

    The heaviest is read day by day once for every athlete, style and start, not once for every miss.
    """
    tops = tops_by_day({one.sort for one in misses})
    shares: dict[int, float | None] = {}
    for sort, group in groupby(sorted(misses, key=lambda m: (m.sort, m.day)), key=lambda m: m.sort):
        days, best = iter(tops.get(sort, ())), 0.0
        ahead = next(days, None)
        for one in group:
            while ahead is not None and ahead[0] < one.day:
                best, ahead = max(best, ahead[1]), next(days, None)
            shares[one.pk] = one.load_kg * 100.0 / best if best else None
    return shares


def tops_by_day(sorts: Iterable[Sort]) -> dict[Sort, list[tuple[date, float]]]:
    """Heaviest made pull of each day, oldest first, by athlete, style and start."""
    wanted = set(sorts)
    rows = LiftSet.objects.filter(
        athlete__in={sort[0] for sort in wanted},
        style__in={sort[1] for sort in wanted},
        lift=Lift.DEADLIFT,
        result=Result.MADE,
    )
    by_day = rows.values_list("athlete_id", "style", "start", "day").annotate(top=Max("load_kg"))
    tops: dict[Sort, list[tuple[date, float]]] = {}
    for athlete, style, start, day, kg in by_day.order_by("day"):
        if (athlete, style, start) in wanted:
            tops.setdefault((athlete, style, start), []).append((day, kg))
    return tops


def rows_of(misses: Sequence[Found]) -> list[LiftSet]:
    """The rows of some misses in their order, each with its `share_of_best`."""
    rows = LiftSet.objects.select_related("athlete", "bar").in_bulk([one.pk for one in misses])
    shares = shares_of(misses)
    shown = [rows[one.pk] for one in misses if one.pk in rows]
    for row in shown:
        row.share_of_best = shares[row.pk]
    return shown
