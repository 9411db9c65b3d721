"""The place of an import: every commit first checks, with the batch locked, that nobody else has advanced it."""

import time

from django.db import connection
from django.utils import timezone

from athletes.models import ImportBatch

BREATH = 0.01  # seconds
CLAIM_FIELDS = ("phase", "turn", "taken", "job")
Status = ImportBatch.Status
BUSY = (Status.STAGING, Status.MOVING, Status.UNDOING)


def locked_if_unmoved(batch: ImportBatch) -> ImportBatch | None:
    """Lock the batch row and return it, or None if another step has advanced it. Requires a transaction."""
    now = ImportBatch.objects.select_for_update().get(pk=batch.pk)
    place = [(b.status, b.rows_read, *(b.options.get(name) for name in CLAIM_FIELDS)) for b in (now, batch)]
    return now if place[0] == place[1] else None


def touch(batch: ImportBatch) -> None:
    """Note that a step works on the batch, so that nobody starts another one beside it."""
    ImportBatch.objects.filter(pk=batch.pk).update(stepped=timezone.now())


def refuse(batch: ImportBatch, reason: str) -> None:
    """Close an import with the reason."""
    ImportBatch.objects.filter(pk=batch.pk).update(status=Status.REFUSED, reason=reason[:300])


def pause_between_commits(seconds: float = BREATH) -> None:
    """Sleep briefly so that waiting writers can take SQLite's single write lock."""
    if connection.vendor == "sqlite" and not connection.in_atomic_block:
        time.sleep(seconds)
