"""From the staged lines into the log: whole sets are laid out in small commits, one short transaction moves them."""

import random
import time
import uuid
from collections.abc import Iterator
from datetime import date

from django.db import connection, transaction
from django.db.backends.utils import CursorWrapper
from django.db.models import F
from django.utils import timezone

from ..models import ImportBatch, LiftSet, Picture, Revision, StagedSet, User
from ..services.audit import record
from .outcome import rows_to_take, sets_to_take
from .staging.compare import compare, last_set, logged_meanwhile
from .staging.steps import BREATH, still

CHUNK = 500
Status = ImportBatch.Status
SHARED = [f for f in StagedSet._meta.concrete_fields if f.name != "id"]
PLACES = 40  # sets of one line keep their order below the next line's


def take_in(batch: ImportBatch) -> str:
    """Ask for the import; returns "" or why the lines must be looked at again first."""
    last = last_set(batch)
    if last > int(batch.options.get("seen", 0)) and compare(batch):
        with transaction.atomic():
            now = ImportBatch.objects.select_for_update().get(pk=batch.pk)
            now.options["seen"] = last
            now.save(update_fields=["options"])
        return "The log changed since these lines were read: some are there already now. Look again, then take them in."
    with transaction.atomic():
        now = ImportBatch.objects.select_for_update().get(pk=batch.pk)
        if now.status != Status.READY:
            return "This import is not waiting to be taken in."
        now.status, now.reason = Status.MOVING, ""
        now.options |= {"phase": "prepare", "prepared": 0, "sets": 0, "seen": last}
        now.save()
    return ""


def prepare(batch: ImportBatch, until: float) -> None:
    """Lay out whole sets beside the log, a few hundred lines a commit."""
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
            _insert(staged)
            now.options["prepared"] = rows[-1][0] if rows else after
            now.options["sets"] = int(now.options["sets"]) + len(staged)
            if len(rows) < CHUNK:
                now.options["phase"] = "move"
            now.save(update_fields=["options"])
        batch = now
        if len(rows) < CHUNK or time.monotonic() > until:
            return
        time.sleep(BREATH)


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


def values_of(found: dict[str, object], batch: ImportBatch, order: int, moment: object) -> dict[str, object]:
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


def _insert(staged: list[dict[str, object]]) -> None:
    """Insert without building a model for each of a hundred thousand rows."""
    if not staged:
        return
    quote = connection.ops.quote_name
    columns = ", ".join(quote(f.column) for f in SHARED)
    marks = ", ".join(["%s"] * len(SHARED))
    ready = [[f.get_db_prep_save(row[f.name], connection) for f in SHARED] for row in staged]
    with connection.cursor() as cursor:
        cursor.executemany(f"INSERT INTO {quote(StagedSet._meta.db_table)} ({columns}) VALUES ({marks})", ready)  # noqa: S608


def move(batch: ImportBatch, until: float) -> None:
    """The one short transaction: everything that was laid out is in the log afterwards, or nothing is."""
    with transaction.atomic():
        now = still(batch)
        if now is None:
            return
        complete = StagedSet.objects.filter(batch=now).count() == now.options["sets"]
        if not complete or logged_meanwhile(now, int(now.options["seen"])):
            _look_again(now)
            return
        _insert_all(now)
        now.status, now.finished = Status.DONE, timezone.now()
        now.options["phase"] = "tidy"
        now.save()
        record(now.author, "import taken in", now, after={"sets": now.options["sets"]}, club=now.club)


def _look_again(batch: ImportBatch) -> None:
    """Somebody logged or took back a set meanwhile: back to the preview, which is compared with the log anew."""
    batch.status = Status.STAGING
    batch.options["phase"] = "compare"
    batch.reason = "The log changed while the sets were laid out: look at the lines again, then take them in."
    batch.save()


def _insert_all(batch: ImportBatch) -> None:
    quote = connection.ops.quote_name
    columns = ", ".join(quote(f.column) for f in SHARED)
    log, staged = quote(LiftSet._meta.db_table), quote(StagedSet._meta.db_table)
    insert = f"INSERT INTO {log} ({columns}) SELECT {columns} FROM {staged} WHERE batch_id = %s ORDER BY id"  # noqa: S608
    with connection.cursor() as cursor:
        if connection.vendor == "sqlite":
            _insert_with_one_bump(cursor, insert, batch)
            return
        cursor.execute("SET CONSTRAINTS ALL IMMEDIATE")  # checked row by row, not all at once at the end
        cursor.execute(insert, [batch.pk])


def _insert_with_one_bump(cursor: CursorWrapper, insert: str, batch: ImportBatch) -> None:
    """SQLite's row trigger would move an athlete's revision once a set; here it moves once an athlete.

    The trigger is away only inside this transaction: whoever looks, before or after or after a crash, finds it.
    """
    name = "revision_athletes_liftset_insert"
    cursor.execute("SELECT sql FROM sqlite_master WHERE type = 'trigger' AND name = %s", [name])
    laid = cursor.fetchone()
    if laid:
        cursor.execute(f"DROP TRIGGER {name}")
    cursor.execute(insert, [batch.pk])
    if laid:
        athletes = set(StagedSet.objects.filter(batch=batch).values_list("athlete_id", flat=True).distinct())
        Revision.objects.filter(athlete__in=athletes).update(number=F("number") + 1)
        cursor.execute(laid[0])


def tidy(batch: ImportBatch, until: float) -> None:
    """Clear the layout away in small commits, and the uploaded file with it."""
    while time.monotonic() <= until:
        chunk = list(StagedSet.objects.filter(batch=batch).values_list("pk", flat=True)[:2_000])
        if not chunk:
            break
        StagedSet.objects.filter(pk__in=chunk)._raw_delete(using=batch._state.db)
        time.sleep(BREATH)
    else:
        return
    drop_file(batch)
    with transaction.atomic():
        now = ImportBatch.objects.select_for_update().get(pk=batch.pk)
        now.options["phase"] = ""
        now.save(update_fields=["options"])


def drop_file(batch: ImportBatch) -> None:
    """The upload is not kept once its lines are in the log."""
    from .staging.upload import table_path

    if batch.status != Status.DONE or not batch.file:
        return
    if batch.options.get("sheets"):
        table_path(batch).unlink(missing_ok=True)
    batch.file.delete(save=False)
    ImportBatch.objects.filter(pk=batch.pk).update(file="")


def undo(batch: ImportBatch, actor: User) -> int:
    """Take every set of an import out of the log again, in one transaction; returns how many there were."""
    with transaction.atomic():
        now = ImportBatch.objects.select_for_update().get(pk=batch.pk)
        if now.status != Status.DONE:
            return 0
        sets = LiftSet.objects.filter(batch=now)
        count = sets.count()
        Picture.objects.filter(lift_set__batch=now).update(lift_set=None)
        sets._raw_delete(using=now._state.db)
        now.status = Status.UNDONE
        now.save(update_fields=["status"])
        record(actor, "import undone", now, before={"sets": count}, club=now.club)
    return count


def changed_since(batch: ImportBatch) -> int:
    """How many of the import's sets were corrected by hand since."""
    if not batch.finished:
        return 0
    return batch.sets.filter(changed__gt=batch.finished).count()
