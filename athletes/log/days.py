"""Writing the note of a training day."""

from django.db import IntegrityError, transaction

from athletes.access.audit import fields_of, record
from athletes.models import TrainingDay, User


def save_day_note(actor: User, row: TrainingDay) -> None:
    """Write the note and what it was before; two people who begin the same day's note end with one row."""
    try:
        _write(actor, row)
    except IntegrityError:
        row.pk = TrainingDay.objects.get(athlete=row.athlete, day=row.day).pk
        _write(actor, row)


def _write(actor: User, row: TrainingDay) -> None:
    with transaction.atomic():
        before = fields_of(TrainingDay.objects.get(pk=row.pk)) if row.pk else None
        row.save()
        record(actor, "corrected" if before else "added", row, before, fields_of(row))
