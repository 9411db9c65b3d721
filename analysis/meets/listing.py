"""The club's meets and an athlete's own, sorted, with what the lists say of them."""

from __future__ import annotations

from datetime import date

from django.db.models import Count, Q

from athletes.models import Athlete, Club, Meet, MeetEntry


def listed_meets(club: Club, today: date) -> tuple[list[Meet], list[Meet]]:
    """Meets to come, the next one first, and those behind, the latest first; each with its number of lifters."""
    own = Q(entries__athlete__isnull=False)
    rows: list[Meet] = list(club.meets.annotate(lifters=Count("entries", filter=own)))
    for meet in rows:
        meet.days_to_go = (meet.day - today).days
    ahead = sorted((m for m in rows if m.day >= today), key=lambda m: (m.day, m.pk))
    behind = sorted((m for m in rows if m.day < today), key=lambda m: (m.day, m.pk), reverse=True)
    return ahead, behind


def entries_of_athlete(athlete: Athlete, today: date) -> tuple[list[MeetEntry], list[MeetEntry]]:
    """An athlete's entries of meets to come, the next first, and of those behind, the latest first."""
    rows = list(athlete.meet_entries.select_related("meet", "meet__club").prefetch_related("attempts"))
    for entry in rows:
        entry.athlete = athlete
    ahead = sorted((e for e in rows if e.meet.day >= today), key=lambda e: (e.meet.day, e.pk))
    behind = sorted((e for e in rows if e.meet.day < today), key=lambda e: (e.meet.day, e.pk), reverse=True)
    return ahead, behind
