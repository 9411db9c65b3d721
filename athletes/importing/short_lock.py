"""A transaction that writes a hundred thousand rows and keeps others from writing for as short as it can.

On SQLite one writer holds the whole log. What a row was checked for when it was laid out is not checked again here,
the pages being written stay in memory, and an athlete's revision moves once instead of once a set. PostgreSQL locks
rows only, and its triggers work once a statement, so there nothing is different from any other transaction.
"""

from collections.abc import Iterable, Iterator
from contextlib import contextmanager

from django.db import connection, models, transaction
from django.db.models import F

from athletes.models import Revision

PAGES_KB = 64 * 1024  # holds the pages that 100,000 sets touch: about 40 MB


@contextmanager
def short_lock() -> Iterator[None]:
    """One transaction over rows whose references were checked when they were laid out, in a table with the same ones.

    Both pragmas belong to this connection and are put back afterwards; inside another transaction SQLite goes on
    checking the references.
    """
    if connection.vendor != "sqlite":
        with transaction.atomic():
            yield
        return
    connection.ensure_connection()
    with _pragmas(foreign_keys=0, cache_size=-PAGES_KB), transaction.atomic():
        yield


@contextmanager
def _pragmas(**wanted: int) -> Iterator[None]:
    kept = {name: _pragma(name) for name in wanted}
    try:
        for name, value in wanted.items():
            _pragma(name, value)
        yield
    finally:
        for name, value in kept.items():
            _pragma(name, value)


def _pragma(name: str, value: int | None = None) -> int:
    with connection.cursor() as cursor:
        cursor.execute(f"PRAGMA {name}" if value is None else f"PRAGMA {name} = {value}")
        found = cursor.fetchone()
    return int(found[0]) if found else 0


@contextmanager
def checked_before() -> Iterator[None]:
    """The rows come from a table with the same check constraints; SQLite does not check them a second time."""
    if connection.vendor != "sqlite":
        yield
        return
    with _pragmas(ignore_check_constraints=1):
        yield


@contextmanager
def one_bump(event: str, athletes: Iterable[int], *tables: type[models.Model]) -> Iterator[None]:
    """Move the revisions of these athletes once for all the rows that are inserted or deleted inside.

    SQLite's row triggers are away only inside the transaction: whoever looks, before or after or after a crash, finds
    them. On PostgreSQL the trigger comes last in its statement, and nobody waits for a revision while references are
    checked.
    """
    if connection.vendor != "sqlite":
        with connection.cursor() as cursor:
            cursor.execute("SET CONSTRAINTS ALL IMMEDIATE")  # else they are checked last, with the revisions held
        yield
        return
    laid = [found for table in tables for found in _laid(f"revision_{table._meta.db_table}_{event}")]
    with connection.cursor() as cursor:
        for name, _ in laid:
            cursor.execute(f"DROP TRIGGER {name}")
        yield
        if laid:
            Revision.objects.filter(athlete__in=list(athletes)).update(number=F("number") + 1)
        for _, made in laid:
            cursor.execute(made)


def _laid(name: str) -> list[tuple[str, str]]:
    with connection.cursor() as cursor:
        cursor.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger' AND name = %s", [name])
        return list(cursor.fetchall())
