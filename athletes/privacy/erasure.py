"""Erasing an athlete or an account with every copy the club holds: rows, pictures, files, trail, sign-ins."""

import json
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

from axes.models import AccessAttempt, AccessFailureLog, AccessLog
from django.core.files.storage import default_storage
from django.db import connection, transaction
from django.db.models import Q, QuerySet

from athletes.accounts.sessions import end_sessions
from athletes.importing.files.tables import forget_opened
from athletes.models import (
    Athlete,
    AuditEntry,
    EmailChange,
    ImportAnswer,
    ImportBatch,
    ImportRow,
    Invitation,
    Membership,
    Picture,
    PreparedFile,
    User,
)
from athletes.models.choices import Role
from athletes.people.of_club import LastOwner
from athletes.privacy.ledger import append_erasure, erased_uids
from athletes.schema.names import name_key


def erase_athlete(athlete: Athlete) -> None:
    """Erase the athlete, and their account unless they also work in a club; the ledger is written first."""
    user = athlete.user
    append_erasure(athlete.uid)
    if user is not None and not works_somewhere(user):
        append_erasure(user.uid)
    with nothing_left_in_free_pages():
        _erase_athlete_rows(athlete)


def erase_account(user: User) -> None:
    """Close an account for good; the log of an athlete who closes it stays with the club, without a sign-in."""
    with nothing_left_in_free_pages(), transaction.atomic():
        for member in user.memberships.filter(role=Role.OWNER):
            owners = Membership.objects.select_for_update().filter(club=member.club_id, role=Role.OWNER)
            if list(owners) == [member]:
                raise LastOwner
        append_erasure(user.uid)
        _erase_user_rows(user)


def apply_erasures() -> int:
    """Erase again whoever the ledger names and a restored backup has brought back; how many were found."""
    uids = erased_uids()
    found = 0
    with nothing_left_in_free_pages():
        for start in range(0, len(uids), 500):
            part = uids[start : start + 500]
            for athlete in Athlete.objects.filter(uid__in=part):
                _erase_athlete_rows(athlete)
                found += 1
            for user in User.objects.filter(uid__in=part):
                _erase_user_rows(user)
                found += 1
    return found


def still_here() -> int:
    """How many athletes and accounts that the ledger names are in this database."""
    uids = erased_uids()
    parts = [uids[start : start + 500] for start in range(0, len(uids), 500)]
    return sum(model.objects.filter(uid__in=part).count() for part in parts for model in (Athlete, User))


@contextmanager
def nothing_left_in_free_pages() -> Iterator[None]:
    """Make SQLite overwrite what is deleted meanwhile; by itself it would keep the text in free pages and its log."""
    if connection.vendor != "sqlite":
        yield
        return
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA secure_delete=ON")
    try:
        yield
    finally:
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA secure_delete=OFF")
            if not connection.in_atomic_block:
                cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")


def works_somewhere(user: User) -> bool:
    return user.memberships.exclude(role=Role.ATHLETE).exists()


def _erase_athlete_rows(athlete: Athlete) -> None:
    user = athlete.user
    with transaction.atomic():
        _blank_import_rows(athlete)
        delete_files(Picture.objects.filter(athlete=athlete))
        delete_files(ImportBatch.objects.filter(athlete=athlete))
        _forget_prepared(Q(athlete=athlete) | Q(club=athlete.club_id, athlete=None))
        _forget_in_club_trail(athlete)
        if user is not None and works_somewhere(user):
            user.memberships.filter(club=athlete.club_id, role=Role.ATHLETE).delete()
        elif user is not None:
            _erase_user_rows(user)
        athlete.delete()


def _erase_user_rows(user: User) -> None:
    with transaction.atomic():
        end_sessions(user)
        _forget_prepared(Q(asked_by=user))
        for email in addresses_of(user):
            for model in (AccessAttempt, AccessLog, AccessFailureLog):
                model.objects.filter(username__iexact=email).delete()
            Invitation.objects.filter(email__iexact=email).delete()
            EmailChange.objects.filter(new_email__iexact=email).delete()
        AuditEntry.objects.filter(target=f"user {user.pk}").delete()
        user.delete()


def _forget_prepared(which: Q) -> None:
    """Remove files that wait to be taken away; a table of the squad holds the sets of everybody in it."""
    files = PreparedFile.objects.filter(which)
    delete_files(files)
    files.delete()


def addresses_of(user: User) -> set[str]:
    """The address of the account and those it had before, as far as they are kept."""
    return {user.email, *user.email_changes.exclude(used=None).values_list("old_email", flat=True)}


def _blank_import_rows(athlete: Athlete) -> None:
    """Blank the lines of uploaded files that name the athlete, remove those files, forget the answers about the name.

    The lines stay as numbered blanks, so that the counts of an import still add up.
    """
    names = {athlete.name_key} | _answered_names(athlete)
    rows = ImportRow.objects.filter(batch__club=athlete.club_id)
    named = [pk for pk, batch, text in _texts(rows) if _names_athlete(text, names, athlete.pk)]
    touched = set()
    for start in range(0, len(named), 500):
        part = ImportRow.objects.filter(pk__in=named[start : start + 500])
        touched |= set(part.values_list("batch_id", flat=True))
        part.update(raw=[], parsed=None, fixed=None, reason="erased on request")
    touched |= set(athlete.sets.exclude(batch=None).values_list("batch_id", flat=True))
    batches = ImportBatch.objects.filter(pk__in=touched)
    delete_files(batches)
    batches.update(file="", file_name="erased on request")


def _texts(rows: QuerySet[Any]) -> Iterator[tuple[int, int, list[object]]]:
    for pk, batch, *values in rows.values_list("pk", "batch_id", "raw", "parsed", "fixed").iterator(chunk_size=2000):
        yield pk, batch, values


def _names_athlete(values: list[object], names: set[str], pk: int) -> bool:
    held = [one for v in values if isinstance(v, dict) for one in (v, *v.get("sets", []))]
    if any(one.get("athlete") == pk for one in held):
        return True
    text = name_key(json.dumps(values, ensure_ascii=False))
    return any(name in text for name in names)


def _answered_names(athlete: Athlete) -> set[str]:
    """Other spellings that the club said mean this athlete; forgotten as they are read."""
    answers = ImportAnswer.objects.filter(club=athlete.club_id)
    about = [a for a in answers if _about(a, athlete)]
    ImportAnswer.objects.filter(pk__in=[a.pk for a in about]).delete()
    return {name_key(a.subject) for a in about if len(name_key(a.subject)) > 2}


def _about(answer: ImportAnswer, athlete: Athlete) -> bool:
    value = answer.answer
    if isinstance(value, dict):
        value = value.get("athlete")
    return name_key(answer.subject) == athlete.name_key or (
        "name" in answer.question and str(value) in (str(athlete.pk), str(athlete.uid))
    )


def _forget_in_club_trail(athlete: Athlete) -> None:
    """Entries of the club without an athlete that still spell the name."""
    for entry in AuditEntry.objects.filter(Q(club=athlete.club_id), athlete=None).iterator():
        text = name_key(json.dumps([entry.before, entry.after], ensure_ascii=False))
        if athlete.name_key in text:
            entry.delete()


def delete_files(rows: QuerySet[Any]) -> None:
    """Remove the rows' files once the transaction has held."""
    for name in rows.exclude(file="").values_list("file", flat=True):
        transaction.on_commit(_deleter(name))


def _deleter(name: str) -> Callable[[], None]:
    def delete() -> None:
        default_storage.delete(name)
        forget_opened(name)

    return delete
