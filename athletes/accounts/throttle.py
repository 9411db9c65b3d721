"""Counting how often something was asked, in the database, so that all server processes count together."""

from datetime import timedelta
from typing import Any

from django.db import transaction
from django.utils import timezone
from django.utils.crypto import salted_hmac

from athletes.models import Tally


def hit_rate_limit(what: str, subject: object, limit: int, seconds: int) -> bool:
    """Count one more request about `subject`; True once it has been asked more than `limit` times in `seconds`.

    Known and unknown subjects cost the same read and write.
    """
    now = timezone.now()
    ends = now + timedelta(seconds=seconds)
    fresh: dict[str, Any] = {"count": 0, "ends": ends}
    with transaction.atomic():
        row, _ = Tally.objects.select_for_update().get_or_create(key=key_of(what, subject), defaults=fresh)
        if row.ends <= now:
            row.count, row.ends = 0, ends
        row.count += 1
        row.save()
    return row.count > limit


def rate_limited(what: str, subject: object, limit: int) -> bool:
    """Whether `subject` has used up its `limit`, without counting this look."""
    return Tally.objects.filter(key=key_of(what, subject), count__gte=limit, ends__gt=timezone.now()).exists()


def forget(what: str, subject: object) -> None:
    """Start counting anew for `subject`."""
    Tally.objects.filter(key=key_of(what, subject)).delete()


def key_of(what: str, subject: object) -> str:
    """A keyed hash: the table cannot be searched for an address by somebody who has only the table."""
    return salted_hmac(f"stancebook.often.{what}", str(subject), algorithm="sha256").hexdigest()
