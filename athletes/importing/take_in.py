"""From the layout into the log: one short transaction moves all sets of an import, and one takes them out again."""

import time
from typing import NamedTuple

from django.db import connection, transaction
from django.utils import timezone

from athletes.access.audit import record
from athletes.importing.claim import claim_step, yield_to_writers
from athletes.importing.compare import compare, last_set, logged_meanwhile
from athletes.importing.layout import LAID_OUT
from athletes.importing.measures_in import (
    athletes_measured,
    clear_measures,
    insert_measures,
    measured_meanwhile,
    revisions_of,
    take_back_measures,
)
from athletes.importing.short_lock import checked_before, one_bump, short_lock
from athletes.importing.tables import forget_opened
from athletes.models import ImportBatch, LiftSet, Measurement, MeasuringVisit, Picture, StagedSet, TrainingDay, User
from athletes.reader.headings import measures_in

TIDIED = 2_000
MOVED = (LiftSet, MeasuringVisit, Measurement, TrainingDay)
Status = ImportBatch.Status


def take_in(batch: ImportBatch) -> str:
    """Ask for the import; returns "" or why it cannot be taken in."""
    with transaction.atomic():
        now = ImportBatch.objects.select_for_update().get(pk=batch.pk)
        if now.status != Status.READY:
            return "This import is not waiting to be taken in."
        now.status, now.reason = Status.MOVING, ""
        now.options |= {"phase": "check", "prepared": 0, "sets": 0, "measures": 0, "athletes": [], "days": []}
        now.save()
    return ""


def check(batch: ImportBatch, until: float) -> None:
    """Compare with what was logged since the preview: what is there already must be looked at again first."""
    last = last_set(batch)
    changed = (last > int(batch.options.get("seen", 0)) or measures_in(batch.options["mapping"])) and compare(batch)
    with transaction.atomic():
        now = claim_step(batch)
        if now is None:
            return
        now.options |= {"phase": "" if changed else "prepare", "seen": last}
        if changed:
            now.status = Status.READY
            now.reason = (
                "The log changed since these lines were read: some are there already now. Look again, then take "
                "them in."
            )
        now.save()


def move(batch: ImportBatch, until: float) -> None:
    """The one short transaction: everything that was laid out is in the log afterwards, or nothing is."""
    seen = int(batch.options["seen"])
    mark = last_set(batch) if connection.vendor == "sqlite" else seen  # elsewhere sets are not committed in order
    measured = athletes_measured(batch)
    before = revisions_of(measured)
    clear = not (logged_meanwhile(batch, seen) or measured_meanwhile(batch, measured))  # little is left for the lock
    with short_lock():
        now = claim_step(batch)
        if now is None:
            return
        busy = [pk for pk, number in revisions_of(measured).items() if number != before.get(pk)]
        if not (clear and _complete(now)) or logged_meanwhile(now, mark) or measured_meanwhile(now, busy):
            _look_again(now)
            return
        with one_bump("insert", measured | set(now.options["athletes"]), *MOVED):
            _insert_all(now)
            if measured:
                insert_measures(now)
        now.status, now.finished = Status.DONE, timezone.now()
        now.options["phase"] = "tidy"
        now.save()
        after = {"sets": now.options["sets"], "readings": now.options.get("measures", 0)}
        record(now.author, "import taken in", now, after={k: v for k, v in after.items() if v}, club=now.club)


def _complete(batch: ImportBatch) -> bool:
    """Whether all that was laid out is still there: an erased lifter's sets are not."""
    laid = (StagedSet.objects.filter(batch=batch).count(), batch.staged_measures.count())
    return "athletes" in batch.options and laid == (batch.options["sets"], batch.options.get("measures", 0))


def _look_again(batch: ImportBatch) -> None:
    """Somebody logged or took back a set meanwhile: back to the preview, which is compared with the log anew."""
    batch.status = Status.STAGING
    batch.options["phase"] = "compare"
    batch.reason = "The log changed while the sets were laid out: look at the lines again, then take them in."
    batch.save()


def _insert_all(batch: ImportBatch) -> None:
    quote = connection.ops.quote_name
    columns = ", ".join(quote(f.column) for f in LAID_OUT.fields.values())
    log, staged = quote(LiftSet._meta.db_table), quote(StagedSet._meta.db_table)
    insert = f"INSERT INTO {log} ({columns}) SELECT {columns} FROM {staged} WHERE batch_id = %s ORDER BY id"  # noqa: S608
    with connection.cursor() as cursor, checked_before():
        cursor.execute(insert, [batch.pk])


def tidy(batch: ImportBatch, until: float) -> None:
    """Clear the layout away in small commits, and the uploaded file with it."""
    chunk = StagedSet.objects.filter(batch=batch).order_by("pk").values("pk")[:TIDIED]
    while StagedSet.objects.filter(pk__in=chunk)._raw_delete(using=batch._state.db):
        if time.monotonic() > until:
            return
        yield_to_writers()
    clear_measures(batch)
    if batch.status in (Status.DONE, Status.UNDONE):
        batch.held_masses.all()._raw_delete(using=batch._state.db)
    drop_file(batch)
    with transaction.atomic():
        now = ImportBatch.objects.select_for_update().get(pk=batch.pk)
        now.options["phase"] = ""
        now.save(update_fields=["options"])


def drop_file(batch: ImportBatch) -> None:
    """The upload is not kept once its lines are in the log."""
    if batch.status != Status.DONE or not batch.file:
        return
    forget_opened(batch.file.name)
    batch.file.delete(save=False)
    ImportBatch.objects.filter(pk=batch.pk).update(file="")


class Undone(NamedTuple):
    """What came out of the log again."""

    sets: int = 0
    readings: int = 0


def undo(batch: ImportBatch, actor: User) -> Undone:
    """Take every set and reading of an import out of the log again, in one transaction."""
    with short_lock():
        now = ImportBatch.objects.select_for_update().get(pk=batch.pk)
        if now.status != Status.DONE:
            return Undone()
        sets = LiftSet.objects.filter(batch=now)
        brought = (sets, now.visits, now.mass_days)
        athletes = {pk for rows in brought for pk in rows.order_by().values_list("athlete", flat=True).distinct()}
        Picture.objects.filter(lift_set__batch=now).update(lift_set=None)
        with one_bump("delete", athletes, *MOVED):
            out = Undone(sets._raw_delete(using=now._state.db), take_back_measures(now))
        now.status = Status.UNDONE
        now.save(update_fields=["status"])
        record(actor, "import undone", now, before={k: v for k, v in out._asdict().items() if v}, club=now.club)
    return out


def changed_since(batch: ImportBatch) -> int:
    """How many of the import's sets were corrected by hand since."""
    if not batch.finished:
        return 0
    return batch.sets.filter(changed__gt=batch.finished).count()
