"""Find logged misses of a squad, each with its share of the best pull made in that style before."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from django.db.models import F, FloatField, OuterRef, QuerySet, Subquery
from django.db.models.functions import Cast

from athletes.models import Athlete, LiftSet
from athletes.models.choices import Lift, Result

MOST = 500


@dataclass(frozen=True, slots=True)
class MissQuery:
    """What is looked for; empty strings and None ask for everything."""

    since: date
    position: str = ""
    gave_way: str = ""
    style: str = ""
    share: int | None = None


def find_misses(athletes: QuerySet[Athlete], asked: MissQuery) -> list[LiftSet]:
    """Missed pulls, newest first, at most MOST; `share_of_best` is in percent, None without an earlier pull made."""
    earlier = (
        LiftSet.objects.filter(
            athlete=OuterRef("athlete"),
            lift=Lift.DEADLIFT,
            style=OuterRef("style"),
            start=OuterRef("start"),
            result=Result.MADE,
            day__lt=OuterRef("day"),
        )
        .order_by("-load_kg")
        .values("load_kg")[:1]
    )
    found = LiftSet.objects.filter(athlete__in=athletes, lift=Lift.DEADLIFT, result=Result.MISSED, day__gte=asked.since)
    for field in ("gave_way", "style"):
        if getattr(asked, field):
            found = found.filter(**{field: getattr(asked, field)})
    if asked.position:
        found = found.filter(miss_position=asked.position)
    found = found.annotate(best_before=Subquery(earlier, output_field=FloatField()))
    found = found.annotate(share_of_best=Cast(F("load_kg") * 100.0 / F("best_before"), FloatField()))
    if asked.share:
        found = found.filter(share_of_best__gte=asked.share)
    return list(found.select_related("athlete", "bar").order_by("-day", "-pk")[:MOST])
