"""Stored profiles of a club, worked out by the queue when the club's day begins, so that no visitor waits for them."""

from __future__ import annotations

import logging
import time
from datetime import datetime
from zoneinfo import ZoneInfo

from django_tasks import task

from analysis.store.profiles import KINDS, Sources, today_in
from athletes.models import Athlete, Club

STEP = 1.5  # seconds of one task; then it enqueues the next, so that mails and imports get their turn
logger = logging.getLogger(__name__)


def refresh_new_days(hour: datetime) -> None:
    """Enqueue the refresh of every club whose day begins with this hour (of UTC)."""
    for club in Club.objects.all():
        if hour.astimezone(ZoneInfo(club.timezone)).hour == 0:
            refresh_club.enqueue(club.pk)


@task()
def refresh_club(club: int, after: int = 0) -> None:
    """One step of about 1.5 s over a club's active athletes in the order of their keys, from `after` on."""
    found = Club.objects.filter(pk=club).first()
    if found is not None and (last := refresh_some(found, after)) is not None:
        refresh_club.enqueue(club, last)


def refresh_some(club: Club, after: int, seconds: float = STEP) -> int | None:
    """Work out what is old of the next athletes; the key of the last one done, None when nobody is left.

    A log that cannot be worked out is named in the server's log and does not keep the others waiting.
    """
    day, ends = today_in(club), time.monotonic() + seconds
    for athlete in Athlete.objects.filter(club=club, active=True, pk__gt=after).order_by("pk"):
        for sees_health in (True, False):
            _work_out(Sources(athlete, day, sees_health=sees_health))
        if time.monotonic() > ends:
            return athlete.pk
    return None


def _work_out(sources: Sources) -> None:
    """Every kind of one athlete for one reader; what still holds is only looked up, the log is read once."""
    sources.look_up(*KINDS)
    for kind in KINDS:
        try:
            sources.profile(kind)
        except Exception:
            logger.exception("The %s of athlete %s could not be worked out", kind, sources.athlete.pk)
