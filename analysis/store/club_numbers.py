"""The numbers in force for an athlete: defaults, then the club's, then the athlete's own."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from django.db.models import Q

from analysis.core.records.plain import CoreError
from analysis.core.settings import DEFAULTS, REGISTRY, Settings, layered
from athletes.models import Athlete, Club, SettingOverride


def numbers_for(athlete: Athlete) -> Settings:
    """The settings that hold for one athlete."""
    return numbers_of([athlete])[athlete.pk]


def numbers_of(athletes: Collection[Athlete]) -> dict[int, Settings]:
    """The settings that hold for each of some athletes, by pk; one query for any number of them."""
    clubs, people = {a.club_id for a in athletes}, {a.pk for a in athletes}
    laid: dict[tuple[int, int | None], list[tuple[str, object]]] = {}
    rows = SettingOverride.objects.filter(Q(athlete=None) | Q(athlete__in=people), club__in=clubs)
    for club, athlete, key, value in rows.values_list("club_id", "athlete_id", "key", "value"):
        laid.setdefault((club, athlete), []).append((key, value))
    return {
        a.pk: layered(_known(laid.get((a.club_id, None), ())), _known(laid.get((a.club_id, a.pk), ())))
        for a in athletes
    }


def numbers_of_club(club: Club) -> Settings:
    """The settings that hold for a club's athletes who have none of their own."""
    return layered(_known(SettingOverride.objects.filter(club=club, athlete=None).values_list("key", "value")))


def _known(rows: Iterable[tuple[str, object]]) -> dict[str, float]:
    """Overrides that the registry still knows and accepts; an old key or value falls back to the default."""
    kept: dict[str, float] = {}
    for key, value in rows:
        if key in REGISTRY and isinstance(value, int | float):
            try:
                DEFAULTS.with_values({key: float(value)})
            except CoreError:
                continue
            kept[key] = float(value)
    return kept
