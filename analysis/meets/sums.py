"""Sums of a meet from what was lifted and, where nothing was, from the subtotal that was typed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from math import floor

from django.db.models import Count, Q

from analysis.core.meets.day import Entrant, best_of, out_of_total
from analysis.meets.rules import entrant_of, lifts_of
from analysis.meets.words import lift_words
from athletes.models import Athlete, Club, Meet, MeetEntry
from athletes.models.choices import Lift


@dataclass(frozen=True, slots=True)
class Standing:
    """Where one entry stands: each lift's attempts in words, subtotal, total, and the place once there is one."""

    entry: MeetEntry
    cards: tuple[tuple[str, tuple[str, ...]], ...]
    subtotal_kg: float
    total_kg: float
    place: int | None
    shared: bool
    out: bool


def subtotal_of(entry: MeetEntry, entrant: Entrant, lifts: Sequence[str]) -> float:
    """Best of each lift but the deadlift, summed, kg; the typed subtotal where one of them is missing."""
    others = [best_of(entrant, lift) for lift in lifts if lift != "deadlift"]
    return sum(others) if others and all(others) else entry.subtotal_kg or 0.0


def total_of(entry: MeetEntry, entrant: Entrant, lifts: Sequence[str]) -> float:
    """Subtotal plus best deadlift, kg; 0 while a part is missing."""
    pull, before = best_of(entrant, "deadlift"), subtotal_of(entry, entrant, lifts)
    alone = set(lifts) <= {"deadlift"}
    return pull + before if pull and (before or alone) else 0.0


def standings(meet: Meet, entries: Iterable[MeetEntry]) -> list[Standing]:
    """Everyone, those with a total first by total; equal totals share a place here, because bodies are private."""
    lifts = lifts_of(meet)
    seen = [(entry, entrant_of(entry, lifts)) for entry in entries]
    totals = {entry.pk: total_of(entry, entrant, lifts) for entry, entrant in seen}
    made = sorted((t for t in totals.values() if t), reverse=True)
    rows = [
        Standing(
            entry=entry,
            cards=tuple((Lift(lift).label, tuple(lift_words(entry.attempts.all(), lift))) for lift in lifts),
            subtotal_kg=subtotal_of(entry, entrant, lifts),
            total_kg=totals[entry.pk],
            place=made.index(totals[entry.pk]) + 1 if totals[entry.pk] else None,
            shared=made.count(totals[entry.pk]) > 1,
            out=any(out_of_total(entrant, lift) for lift in lifts),
        )
        for entry, entrant in seen
    ]
    return sorted(rows, key=lambda row: (row.place or len(rows) + 1, row.entry.lot or 0, row.entry.pk))


def lightest_to_pass(own_before_kg: float, rival_total_kg: float, step_kg: float) -> float:
    """The lightest deadlift, kg, in steps, that puts the total above the rival's."""
    missing = rival_total_kg - own_before_kg
    return max((floor(missing / step_kg + 1e-6) + 1) * step_kg, step_kg)


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
