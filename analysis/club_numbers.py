"""The numbers in force for an athlete: defaults, then the club's, then the athlete's own."""

from __future__ import annotations

from collections.abc import Iterable

from analysis.errors import CoreError
from analysis.evidence.settings import DEFAULTS, REGISTRY, Settings, layered
from athletes.models import Athlete, Club, SettingOverride


def numbers_for(athlete: Athlete) -> Settings:
    """The settings that hold for one athlete."""
    rows = SettingOverride.objects.filter(club_id=athlete.club_id)
    club = _known(rows.filter(athlete=None).values_list("key", "value"))
    own = _known(rows.filter(athlete=athlete).values_list("key", "value"))
    return layered(club, own)


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
