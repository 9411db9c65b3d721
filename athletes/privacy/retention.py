"""What is thrown away once it is no longer needed, and after how many days."""

from collections.abc import Callable
from datetime import datetime, timedelta

from axes.models import AccessAttempt, AccessFailureLog, AccessLog
from django.conf import settings
from django.contrib.sessions.models import Session
from django.db import transaction
from django.db.models import Q
from django.utils import timezone
from django_tasks_db.models import DBTaskResult

from athletes.models import (
    AccessEntry,
    AuditEntry,
    EmailChange,
    HealthNote,
    HeldMass,
    ImportBatch,
    ImportRow,
    Invitation,
    Picture,
    PreparedFile,
    SignInSession,
    Tally,
)
from athletes.privacy.erasure import delete_files


def prune() -> dict[str, int]:
    """Throw away what is past its days (settings.RETENTION_DAYS); rows gone, by kind."""
    now = timezone.now()
    gone = {}
    for kind, days in settings.RETENTION_DAYS.items():
        with transaction.atomic():
            gone[kind] = PRUNERS[kind](now - timedelta(days=days))
    gone["signed-out browsers"] = _dead_sessions(now)
    gone["counts of tries"] = Tally.objects.filter(ends__lt=now).delete()[0]
    return gone


def _looks(until: datetime) -> int:
    return AccessEntry.objects.filter(day__lt=until.date()).delete()[0]


def _changes(until: datetime) -> int:
    return AuditEntry.objects.filter(at__lt=until).delete()[0]


def _invitations(until: datetime) -> int:
    old = Q(expires__lt=until) | Q(used__lt=until) | Q(withdrawn__lt=until)
    return Invitation.objects.filter(old).delete()[0]


def _import_files(until: datetime) -> int:
    old = ImportBatch.objects.filter(created__lt=until).exclude(file="")
    delete_files(old)
    return old.update(file="")


def _import_lines(until: datetime) -> int:
    HeldMass.objects.filter(batch__created__lt=until).delete()
    old = ImportRow.objects.filter(batch__created__lt=until).exclude(raw=[])
    return old.update(raw=[], fixed=None)


def _ended_health_notes(until: datetime) -> int:
    return HealthNote.objects.filter(ended_on__lt=until.date()).delete()[0]


def _pictures(until: datetime) -> int:
    old = Picture.objects.filter(taken_on__lt=until.date())
    delete_files(old)
    return old.delete()[0]


def _sign_in_tries(until: datetime) -> int:
    old = [(AccessAttempt, "attempt_time"), (AccessLog, "attempt_time"), (AccessFailureLog, "attempt_time")]
    return sum(model.objects.filter(**{f"{field}__lt": until}).delete()[0] for model, field in old)


def _address_changes(until: datetime) -> int:
    return EmailChange.objects.filter(asked__lt=until).delete()[0]


def _ended_tasks(until: datetime) -> int:
    return DBTaskResult.objects.finished().filter(finished_at__lt=until).delete()[0]


def _prepared_files(until: datetime) -> int:
    old = PreparedFile.objects.filter(created__lt=until)
    delete_files(old)
    return old.delete()[0]


def _dead_sessions(now: datetime) -> int:
    Session.objects.filter(expire_date__lt=now).delete()
    return SignInSession.objects.exclude(session_key__in=Session.objects.values("session_key")).delete()[0]


PRUNERS: dict[str, Callable[[datetime], int]] = {
    "looks": _looks,
    "changes": _changes,
    "invitations": _invitations,
    "import files": _import_files,
    "import lines": _import_lines,
    "ended health notes": _ended_health_notes,
    "pictures": _pictures,
    "sign-in tries": _sign_in_tries,
    "address changes": _address_changes,
    "ended tasks": _ended_tasks,
    "prepared files": _prepared_files,
}
