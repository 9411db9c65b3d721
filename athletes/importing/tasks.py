"""The import in the queue: steps of at most about two seconds, each of which enqueues the next one.

The worker has no heartbeat and repeats no task. So a step may be run twice without harm, and an import whose last
step began more than a minute ago is enqueued again by whoever looks at it and by the start of a worker.
"""

import time
from collections.abc import Callable
from datetime import timedelta

from django.db.models import Q
from django.utils import timezone
from django_tasks import task

from athletes.importing.moving.cursor import BUSY, refuse, touch
from athletes.importing.moving.taking import check, take, tidy
from athletes.importing.moving.undoing import take_out
from athletes.importing.opening import open_workbook
from athletes.importing.steps import compare_lines, look_through, read_lines
from athletes.models import ImportBatch
from athletes.reader.notes import Refused

STEP = 1.5  # seconds
STALE = timedelta(seconds=60)
Status = ImportBatch.Status
STEPS: dict[tuple[str, str], Callable[[ImportBatch, float], None]] = {
    (Status.STAGING, "open"): open_workbook,
    (Status.STAGING, "look"): look_through,
    (Status.STAGING, "read"): read_lines,
    (Status.STAGING, "compare"): compare_lines,
    (Status.MOVING, "check"): check,
    (Status.MOVING, "take"): take,
    (Status.MOVING, "withdraw"): take_out,
    (Status.UNDOING, "undo"): take_out,
    (Status.DONE, "tidy"): tidy,
    (Status.UNDONE, "tidy"): tidy,
}


def advance(pk: int, seconds: float = STEP) -> ImportBatch:
    """Work on an import for about that many seconds; returns it as it stands then."""
    until = time.monotonic() + seconds
    while True:
        batch = ImportBatch.objects.select_related("club").get(pk=pk)
        step = STEPS.get((batch.status, str(batch.options.get("phase"))))
        if step is None:
            return batch
        touch(batch)
        try:
            step(batch, until)
        except Refused as problem:
            refuse(batch, str(problem))
        except FileNotFoundError:
            refuse(batch, "The uploaded file is not kept any more. Upload it again.")
        if time.monotonic() > until:
            return ImportBatch.objects.select_related("club").get(pk=pk)


def is_busy(batch: ImportBatch) -> bool:
    """Whether something is left to do for the worker."""
    return (batch.status, str(batch.options.get("phase"))) in STEPS


@task()
def advance_import(pk: int) -> None:
    """One step of an import; enqueues the next one. An import that was put away meanwhile is left alone."""
    try:
        batch = advance(pk)
    except ImportBatch.DoesNotExist:
        return
    if is_busy(batch):
        advance_import.enqueue(pk)


def enqueue(batch: ImportBatch) -> None:
    """Have the worker go on with an import."""
    touch(batch)
    advance_import.enqueue(batch.pk)


def revive(batch: ImportBatch) -> None:
    """Enqueue an import again whose cursor has not moved for a minute; of several who look, one does so."""
    if not is_busy(batch):
        return
    stale = ImportBatch.objects.filter(pk=batch.pk).filter(Q(stepped=None) | Q(stepped__lt=timezone.now() - STALE))
    if stale.update(stepped=timezone.now()):
        advance_import.enqueue(batch.pk)


def revive_all(at_start: bool = False) -> int:
    """Enqueue every import that stands still; at the start of the only worker nothing is at work."""
    found = [b for b in ImportBatch.objects.filter(Q(status__in=BUSY) | Q(options__phase="tidy")) if is_busy(b)]
    if at_start:
        ImportBatch.objects.filter(pk__in=[b.pk for b in found]).update(stepped=None)
    for batch in found:
        revive(batch)
    return len(found)
