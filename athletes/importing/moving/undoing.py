"""Taking an import out of the log again, athlete by athlete, by the batch that every row carries."""

import time
from typing import Any

from django.db import transaction
from django.db.models import F, Q, QuerySet
from django.utils import timezone

from athletes.access.audit import record
from athletes.importing.moving.cursor import locked_if_unmoved, pause_between_commits
from athletes.importing.moving.taking import MEANWHILE, Status
from athletes.models import ImportBatch, LiftSet, Measurement, Picture, TrainingDay, User

NOTHING_ELSE = Q(soreness=None, soreness_site="", sleep_hours=None, energy=None, note="")
ASK = "Some sets of this import were corrected since. Choose below whether they stay in the log or go too."
KEEP, REMOVE = "keep", "remove"
BREATH = 0.05  # seconds: deletes follow one another without work between them, and a waiting phone tries every 0.1 s


def corrected_since(batch: ImportBatch) -> QuerySet[LiftSet]:
    """Sets of the import that were corrected by hand after they came in."""
    return batch.sets.filter(changed__gt=F("created")).select_related("athlete").order_by("athlete", "day", "order")


def undo(batch: ImportBatch, actor: User, corrected: str = "") -> str:
    """Ask for the import to be taken out; returns "" or why not. `corrected`: KEEP or REMOVE sets corrected since."""
    with transaction.atomic():
        now = ImportBatch.objects.select_for_update().get(pk=batch.pk)
        if now.status != Status.DONE:
            return "Nothing to undo."
        if corrected not in (KEEP, REMOVE) and corrected_since(now).exists():
            return ASK
        now.status, now.reason = Status.UNDOING, ""
        now.options |= {"phase": "undo", "undo": {"by": actor.pk, "corrected": corrected, "sets": 0, "readings": 0}}
        now.save()
    return ""


def take_out(batch: ImportBatch, until: float) -> None:
    """Delete the batch's rows until the time is over, each athlete in a transaction of its own."""
    done = dict(batch.options.get("undo") or {"sets": 0, "readings": 0, "corrected": KEEP})
    for athlete in athletes_of(batch):
        with transaction.atomic():
            now = locked_if_unmoved(batch)
            if now is None:
                return
            sets, readings = _take_athlete_out(now, athlete, done["corrected"] == KEEP)
            done |= {"sets": done["sets"] + sets, "readings": done["readings"] + readings}
            now.options["undo"] = done
            now.save(update_fields=["options"])
        pause_between_commits(BREATH)
        if time.monotonic() > until:
            return
    _finish(batch, done)


def athletes_of(batch: ImportBatch) -> list[int]:
    """Athletes who have rows of the batch in the log."""
    brought = (batch.sets, batch.visits, batch.mass_days)
    return sorted({pk for rows in brought for pk in rows.order_by().values_list("athlete", flat=True).distinct()})


def _take_athlete_out(batch: ImportBatch, athlete: int, keep: bool) -> tuple[int, int]:
    """Sets and readings of one athlete deleted; corrected sets that stay lose their batch."""
    using = batch._state.db
    if keep:
        corrected_since(batch).filter(athlete=athlete).update(batch=None)
    Picture.objects.filter(lift_set__batch=batch, lift_set__athlete=athlete).update(lift_set=None)
    sets = LiftSet.objects.filter(batch=batch, athlete=athlete)._raw_delete(using=using)
    readings = Measurement.objects.filter(visit__batch=batch, visit__athlete=athlete)._raw_delete(using=using)
    batch.visits.filter(athlete=athlete)._raw_delete(using=using)
    noted = TrainingDay.objects.filter(mass_batch=batch, athlete=athlete)  # how version 0.2 kept a body mass
    readings += noted.filter(NOTHING_ELSE)._raw_delete(using=using)
    return sets, readings + noted.update(mass_typed="", mass_unit="", mass_kg=None, mass_batch=None)


def _finish(batch: ImportBatch, done: dict[str, Any]) -> None:
    with transaction.atomic():
        now = locked_if_unmoved(batch)
        if now is None:
            return
        if now.status == Status.MOVING:  # withdrawn because the log changed: back to the preview
            now.status, now.reason = Status.STAGING, MEANWHILE
            now.options |= {"phase": "compare", "parts": [], "taken": 0}
            now.options.pop("undo", None)
        else:
            now.status, now.finished = Status.UNDONE, now.finished or timezone.now()
            now.options["phase"] = "tidy"
            actor = User.objects.filter(pk=done.get("by") or 0).first()
            before = {k: done[k] for k in ("sets", "readings") if done[k]}
            record(actor, "import undone", now, before=before, club=now.club)
        now.save()
