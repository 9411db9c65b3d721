"""The guardian's link: made by the coach, good for a quarter of a year, replaced by the next one."""

import secrets
from datetime import timedelta

from django.db import transaction
from django.utils import timezone

from athletes.access.audit import record
from athletes.access.visibility import is_minor
from athletes.accounts.invitations import token_hash
from athletes.models import Athlete, GuardianLink, User

VALID_DAYS = 90


@transaction.atomic
def make_link(athlete: Athlete, by: User) -> str:
    """A new token, told once and not stored; the links that were made before open nothing any more."""
    athlete.guardian_links.filter(withdrawn__isnull=True).update(withdrawn=timezone.now())
    token = secrets.token_urlsafe(32)
    row = GuardianLink.objects.create(
        athlete=athlete,
        token_hash=token_hash(token),
        created_by=by,
        expires=timezone.now() + timedelta(days=VALID_DAYS),
    )
    record(by, "added", row, athlete=athlete)
    return token


def athlete_behind(token: str) -> Athlete | None:
    """The minor whose guardian holds this link; None for links that are used up, invented, or of somebody of age."""
    found = GuardianLink.objects.filter(
        token_hash=token_hash(token), withdrawn__isnull=True, expires__gt=timezone.now()
    ).select_related("athlete__club", "athlete__coach")
    row = found.first()
    return row.athlete if row is not None and is_minor(row.athlete) else None
