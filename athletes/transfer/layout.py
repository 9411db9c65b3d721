"""Whole sets laid out beside the log in small commits, so that the move itself has nothing left to work out."""

import random
import time
import uuid
from collections.abc import Iterator
from datetime import date

from django.db import connection, transaction
from django.utils import timezone

from ..models import ImportBatch, StagedSet
from .outcome import rows_to_take, sets_to_take
from .staging.steps import BREATH, still

CHUNK = 500
SHARED = [f for f in StagedSet._meta.concrete_fields if f.name != "id"]
PLACES = 40  # sets of one line keep their order below the next line's
Values = dict[str, object]


def prepare(batch: ImportBatch, until: float) -> None:
    """Lay out whole sets, a few hundred lines a commit."""
    moment = timezone.now()
    while True:
        after = int(batch.options["prepared"])
        rows = list(rows_to_take(batch).filter(number__gt=after)[:CHUNK].values_list("number", "parsed", "choice"))
        staged = [
            values_of(found, batch, number * PLACES + i, moment)
            for number, parsed, choice in rows
            for i, found in enumerate(sets_to_take(parsed, choice))
        ]
        with transaction.atomic():
            now = still(batch)
            if now is None:
                return
            if not after:
                StagedSet.objects.filter(batch=now)._raw_delete(using=now._state.db)
            insert_staged(staged)
            now.options |= told(now.options, staged) | {"prepared": rows[-1][0] if rows else after}
            if len(rows) < CHUNK:
                now.options["phase"] = "move"
            now.save(update_fields=["options"])
        batch = now
        if len(rows) < CHUNK or time.monotonic() > until:
            return
        time.sleep(BREATH)


def told(options: Values, staged: list[Values]) -> Values:
    """What the move asks about all that is laid out: how many sets, whose, and from which day to which."""
    days = [*list(options.get("days", [])), *(str(row["day"]) for row in staged)]
    athletes = {*list(options.get("athletes", [])), *(row["athlete"] for row in staged)}
    return {
        "sets": int(str(options["sets"])) + len(staged),
        "athletes": sorted(athletes),
        "days": [min(days), max(days)] if days else [],
    }


def ordered_uid() -> Iterator[uuid.UUID]:
    """Ids that grow with time, so that their index only ever grows at its end (the layout of RFC 9562, version 7)."""
    while True:
        head = (int(time.time() * 1000) << 80) | (0x7 << 76)
        tail = random.getrandbits(12) << 64 | 0x2 << 62
        start = random.getrandbits(40) << 20
        for i in range(1 << 16):
            yield uuid.UUID(int=head | tail | (start + i))


UIDS = ordered_uid()
DEFAULTS = {f.name: f.get_default() for f in SHARED if f.has_default() or f.empty_strings_allowed}


def values_of(found: Values, batch: ImportBatch, order: int, moment: object) -> Values:
    """A staged line's set as a value for every column of the log."""
    values = DEFAULTS | {"bar": None, "rir_low": None, "rir_high": None, "pull_seconds": None, "order": order} | found
    return values | {
        "uid": next(UIDS),
        "day": date.fromisoformat(str(found["day"])),
        "author": batch.author_id,
        "batch": batch.pk,
        "created": moment,
        "changed": moment,
    }


def insert_staged(staged: list[Values]) -> None:
    """Insert without building a model for each of a hundred thousand rows."""
    if not staged:
        return
    quote = connection.ops.quote_name
    columns = ", ".join(quote(f.column) for f in SHARED)
    marks = ", ".join(["%s"] * len(SHARED))
    ready = [[f.get_db_prep_save(row[f.name], connection) for f in SHARED] for row in staged]
    with connection.cursor() as cursor:
        cursor.executemany(f"INSERT INTO {quote(StagedSet._meta.db_table)} ({columns}) VALUES ({marks})", ready)  # noqa: S608
