"""The trail of changes: who changed what, when, from what and to what."""

import json
import logging
from collections.abc import Iterable, Mapping

from django.contrib.auth.models import AnonymousUser
from django.core.serializers.json import DjangoJSONEncoder
from django.db import DatabaseError, models, transaction
from django.utils import timezone

from athletes.models import AccessEntry, Athlete, AuditEntry, Club, User

logger = logging.getLogger(__name__)
UNWRITTEN: list[AccessEntry] = []  # looks of this process that the database did not take
UNWRITTEN_AT_MOST = 10_000  # a club's looks of some weeks; about 5 MB
REFUSED_STATES = {"25006", "53100"}  # read-only transaction, disk full
REFUSED_WORDS = ("readonly database", "disk is full", "database is locked")  # SQLite's
EXCLUDED_COLUMNS = {"id", "token_hash", "session_key", "password", "changed", "updated", "computed"}


def fields_of(row: models.Model) -> dict[str, object]:
    """The row's own columns as plain JSON values; call it before a change, and again after."""
    found = {f.name: f.value_from_object(row) for f in row._meta.concrete_fields if f.name not in EXCLUDED_COLUMNS}
    found = {name: str(v) if isinstance(v, models.fields.files.FieldFile) else v for name, v in found.items()}
    return json.loads(json.dumps(found, cls=DjangoJSONEncoder))


def record(
    actor: User | None,
    action: str,
    row: models.Model,
    before: Mapping[str, object] | None = None,
    after: Mapping[str, object] | None = None,
    athlete: Athlete | None = None,
    club: Club | None = None,
) -> AuditEntry:
    """Add one entry; with both sides given only what differs is kept.

    Call it inside the transaction of the change. `action` is a word of the trade: "added", "corrected", "deleted",
    "decided", "withdrawn". `athlete` and `club` are read from the row when it has them.
    """
    athlete = athlete or _athlete_of(row)
    club = club or (athlete.club if athlete else None) or _club_of(row)
    if before is not None and after is not None:
        changed = {k for k in before.keys() | after.keys() if before.get(k) != after.get(k)}
        before = {k: v for k, v in before.items() if k in changed}
        after = {k: v for k, v in after.items() if k in changed}
    return AuditEntry.objects.create(
        club=club,
        athlete=athlete,
        actor=actor,
        action=action[:40],
        target=f"{row._meta.verbose_name} {row.pk}"[:60],
        before=before,
        after=after,
    )


def _athlete_of(row: models.Model) -> Athlete | None:
    if isinstance(row, Athlete):
        return row
    for holder in (row, getattr(row, "visit", None), getattr(row, "entry", None)):
        athlete = getattr(holder, "athlete", None)
        if isinstance(athlete, Athlete):
            return athlete
    return None


def _club_of(row: models.Model) -> Club | None:
    if isinstance(row, Club):
        return row
    club = getattr(row, "club", None)
    return club if isinstance(club, Club) else None


def note_look(user: User | AnonymousUser, athlete: Athlete, page: str) -> None:
    """Remember that `user` saw this kind of page today; asks first, so that a second look takes no write lock."""
    if not user.is_authenticated or athlete.user_id == user.pk:
        return
    today = timezone.localdate()
    look = {"athlete_id": athlete.pk, "viewer_id": user.pk, "day": today, "page": page[:40]}
    if not AccessEntry.objects.filter(**look).exists():
        _write_looks([AccessEntry(**look)])


def note_looks(user: User, athletes: Iterable[Athlete], page: str) -> None:
    """Remember one look at many athletes, such as an export of a squad."""
    today = timezone.localdate()
    looks = AccessEntry.objects.filter(viewer_id=user.pk, day=today, page=page[:40])
    noted = set(looks.values_list("athlete_id", flat=True))
    new = [
        AccessEntry(athlete_id=a.pk, viewer_id=user.pk, day=today, page=page[:40])
        for a in athletes
        if a.user_id != user.pk and a.pk not in noted
    ]
    if new:
        _write_looks(new)


def _write_looks(looks: list[AccessEntry]) -> None:
    """Write looks; when the database takes no writes they are kept in this process and written with the next ones.

    A page that only reads must not fail because its look cannot be noted: a full disk or a replica still shows it.
    """
    looks = [*UNWRITTEN, *looks]
    try:
        with transaction.atomic():
            AccessEntry.objects.bulk_create(looks, ignore_conflicts=True, batch_size=500)
    except DatabaseError as error:
        if not write_refused(error):
            raise
        logger.exception("Looks could not be written; %d wait in this process", min(len(looks), UNWRITTEN_AT_MOST))
        UNWRITTEN[:] = looks[-UNWRITTEN_AT_MOST:]
    else:
        UNWRITTEN.clear()


def write_refused(error: Exception) -> bool:
    """Whether the database answers but takes no writes: a full disk, a read-only copy, a lock held too long."""
    if not isinstance(error, DatabaseError):
        return False
    state = getattr(error.__cause__, "sqlstate", None)  # PostgreSQL's code, the same in every language
    words = str(error)
    return state in REFUSED_STATES or any(part in words for part in REFUSED_WORDS)
