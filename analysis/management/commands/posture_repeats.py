"""Print whether people who measured the same stance agree as well as the stated errors say."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand

from analysis.core.leverages.agreement import LEAST_LIFTERS, WITHIN_SD, agreement
from analysis.store.bridge import posture_notes
from athletes.models import Athlete
from athletes.schema.postures import PostureNote


class Command(BaseCommand):
    help = "Compare stances and toes that two people measured of the same lifter within a month."

    def handle(self, *args: Any, **options: Any) -> None:
        lifters = Athlete.objects.filter(postures__isnull=False).distinct()
        found = agreement([authored(one) for one in lifters])
        if not found.enough:
            self.stdout.write(
                f"Not yet measured: {found.lifters} of {LEAST_LIFTERS} lifters were measured by two people."
            )
            return
        self.stdout.write(
            f"{found.lifters} lifters, {found.differences} differences: {found.share:.2f} within {WITHIN_SD:g} "
            f"stated SD (target 0.80); errors are {found.rms:.1f} times the stated ones."
        )


def authored(athlete: Athlete) -> list[tuple[object, PostureNote]]:
    """The athlete's entries with who made them, the oldest first; those of people who have left stand for nobody."""
    rows = athlete.postures.order_by("day", "pk")
    authors = rows.values_list("author_id", flat=True)
    last = max((row.day for row in rows), default=None)
    notes = posture_notes(athlete, last) if last else ()
    return [(author, note) for author, note in zip(authors, notes, strict=True) if author is not None]
