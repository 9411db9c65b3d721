"""Files written by the worker: asked for, written whole or not at all, taken up again after a worker died.

A file lies under its own name in the storage before its row says so; a row that says "ready" has all of its file.
"""

import logging
import tempfile
from collections.abc import Callable, Iterable, Iterator
from datetime import timedelta
from typing import IO

from django.core.files import File
from django.db.models import F, Q, QuerySet
from django.utils import timezone
from django.utils.text import slugify
from django_tasks import task

from athletes.access.permissions import may, may_see_mass
from athletes.exporting.archive_writer import write_copy
from athletes.exporting.csv_writer import table
from athletes.models import Athlete, Club, FileKind, FileState, LiftSet, PreparedFile, User

TRIES = 3
STALE = timedelta(seconds=60)  # the worker notes its progress every 2,000 sets, a tenth of a second
CHUNK = 2_000
Beat = Callable[[int], None]
logger = logging.getLogger(__name__)


def squad_of(club: Club, user: User) -> list[Athlete]:
    """The athletes of a club whose coach the user is; an owner's are all of the club's."""
    return [a for a in club.athletes.select_related("club") if may(user, a, "decide")]


def ask_for(kind: FileKind, user: User, club: Club, athlete: Athlete | None = None) -> PreparedFile:
    """The file being prepared; asked for twice while it is on its way, it is the same one."""
    same = PreparedFile.objects.filter(asked_by=user, club=club, athlete=athlete, kind=kind)
    if (row := same.filter(state__in=(FileState.WAITING, FileState.WORKING)).first()) is not None:
        return row
    whose = (slugify(athlete.name) or "athlete") if athlete else "squad"
    day = f"{timezone.localdate():%Y-%m-%d}"
    name = f"{whose}-{day}.zip" if kind == FileKind.ATHLETE_COPY else f"{whose}-lifts-{day}.csv"
    row = PreparedFile.objects.create(asked_by=user, club=club, athlete=athlete, kind=kind, name=name)
    write_file.enqueue(row.pk)
    row.refresh_from_db()
    return row


@task()
def write_file(pk: int) -> None:
    """Write one file that waits; of several workers that are told to, one does."""
    waiting = PreparedFile.objects.filter(pk=pk, state=FileState.WAITING)
    if not waiting.update(state=FileState.WORKING, tries=F("tries") + 1, done=0, touched=timezone.now()):
        return
    row = PreparedFile.objects.select_related("club", "athlete__club", "asked_by").get(pk=pk)
    try:
        with WRITERS[FileKind(row.kind)](row, lambda done: _note(pk, done=done)) as written:
            _keep(row, written)
    except OSError as problem:
        logger.exception("A file could not be written")
        _note(pk, state=FileState.FAILED, reason=f"The server could not store it: {problem.strerror or 'disk error'}.")


def _keep(row: PreparedFile, written: IO[bytes]) -> None:
    """Store a written file under a name of its own, then say that it is ready; gone again if nobody waits for it."""
    size = written.seek(0, 2)
    written.seek(0)
    storage = row.file.storage
    name = row.file.field.generate_filename(row, f"{row.uid}-{row.tries}")
    storage.delete(name)  # half of a file that an earlier try left
    name = storage.save(name, File(written))
    ready = PreparedFile.objects.filter(pk=row.pk, state=FileState.WORKING, tries=row.tries)
    if not ready.update(state=FileState.READY, file=name, size=size, touched=timezone.now()):
        storage.delete(name)


def _note(pk: int, **values: object) -> None:
    PreparedFile.objects.filter(pk=pk, state=FileState.WORKING).update(touched=timezone.now(), **values)


def _write_squad(row: PreparedFile, beat: Beat) -> IO[bytes]:
    people = [a.pk for a in squad_of(row.club, row.asked_by)]
    sets = LiftSet.objects.filter(athlete__in=people)
    return _write_table(row, sets.order_by("athlete__name_key", "athlete_id", "day", "order", "pk"), beat)


def _write_sets(row: PreparedFile, beat: Beat) -> IO[bytes]:
    return _write_table(row, LiftSet.objects.filter(athlete=row.athlete).order_by("day", "order", "pk"), beat)


def _write_table(row: PreparedFile, sets: QuerySet[LiftSet], beat: Beat) -> IO[bytes]:
    _note(row.pk, total=sets.count())
    out = tempfile.TemporaryFile()  # noqa: SIM115 - handed on open
    listed = sets.select_related("athlete", "bar").iterator(chunk_size=CHUNK)
    out.writelines(line.encode() for line in table(_counted(listed, beat)))
    return out


def _write_copy(row: PreparedFile, beat: Beat) -> IO[bytes]:
    if row.athlete is None:
        raise ValueError("a copy is of one athlete")
    return write_copy(row.athlete, may_see_mass(row.asked_by, row.athlete))


def _counted(sets: Iterable[LiftSet], beat: Beat) -> Iterator[LiftSet]:
    for number, one in enumerate(sets, start=1):
        yield one
        if number % CHUNK == 0:
            beat(number)


WRITERS: dict[FileKind, Callable[[PreparedFile, Beat], IO[bytes]]] = {
    FileKind.SQUAD_SETS: _write_squad,
    FileKind.ATHLETE_SETS: _write_sets,
    FileKind.ATHLETE_COPY: _write_copy,
}


def revive_files(at_start: bool = False) -> int:
    """Queue files again whose worker was killed; one that was tried three times is given up. How many were queued."""
    left = PreparedFile.objects.filter(state__in=(FileState.WAITING, FileState.WORKING))
    if not at_start:
        left = left.filter(touched__lt=timezone.now() - STALE)
    given_up = left.filter(state=FileState.WORKING, tries__gte=TRIES)
    given_up.update(state=FileState.FAILED, reason=f"Given up after {TRIES} tries that did not end.")
    pks = list(left.filter(Q(state=FileState.WAITING) | Q(tries__lt=TRIES)).values_list("pk", flat=True))
    PreparedFile.objects.filter(pk__in=pks).update(state=FileState.WAITING, touched=timezone.now())
    for pk in pks:
        write_file.enqueue(pk)
    return len(pks)
