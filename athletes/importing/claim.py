"""Claiming the next step of an import, so that two people who push the same import never do a step twice."""

import time

from django.db import connection

from athletes.models import ImportBatch

BREATH = 0.01  # seconds
CLAIM_FIELDS = ("phase", "turn", "prepared", "job")


def yield_to_writers() -> None:
    """Sleep briefly between two commits so that waiting writers can take SQLite's single write lock."""
    if connection.vendor == "sqlite":
        time.sleep(BREATH)


def claim_step(batch: ImportBatch) -> ImportBatch | None:
    """Lock the batch row and return it, or None if another step has advanced it. Requires a transaction."""
    now = ImportBatch.objects.select_for_update().get(pk=batch.pk)
    claimed = [(b.status, b.rows_read, *(b.options.get(name) for name in CLAIM_FIELDS)) for b in (now, batch)]
    return now if claimed[0] == claimed[1] else None
