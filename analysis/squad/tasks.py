"""Rows of the squad wall that are missing or old, worked out by the queue, so that no visit waits for them."""

from __future__ import annotations

import logging
import time
from datetime import timedelta

from django.db import DatabaseError, transaction
from django.utils import timezone
from django_tasks import task
from django_tasks_db.models import DBTaskResult

from analysis.squad.wall import FAILED
from analysis.store.profiles import Sources, sees_health, sees_none, stored_profiles, today_in
from athletes.access.audit import write_refused
from athletes.models import Athlete, Club

STEP = 1.5  # seconds of one task; then it enqueues the next, so that mails and imports get their turn
LOST = timedelta(seconds=90)  # a task that began longer ago was killed with its worker
log = logging.getLogger("stancebook.wall")


def fill_some(club: Club, seconds: float = STEP) -> int:
    """Work out missing rows for about that many seconds, at least one; returns how many are left.

    Each row is made for who may see health and, where there are health entries, once more without them.
    """
    day, ends = today_in(club), time.monotonic() + seconds
    athletes = Athlete.objects.filter(club=club, active=True)
    readers = (sees_health, sees_none)
    missing = [p for reader in readers for p in stored_profiles(athletes, "wall", day, reader) if p.updating]
    for number, one in enumerate(missing, start=1):
        sources = Sources(one.athlete, day, sees_health=one.sees_health)
        try:
            sources.profile("wall")
        except Exception:  # one lifter's log must not keep the others from being shown
            log.exception("The wall's row of athlete %s could not be worked out.", one.athlete.pk)
            sources.keep("wall", FAILED)
        if time.monotonic() > ends:
            return len(missing) - number
    return 0


@task()
def fill_wall(club: int) -> None:
    """One step for a club; enqueues the next while rows are missing. A club that was closed is left alone."""
    found = Club.objects.filter(pk=club).first()
    if found is not None and fill_some(found):
        fill_wall.enqueue(club)


def ask_for(club: Club) -> None:
    """Have the queue fill the club's wall, unless it already does or the database takes no writes just now."""
    waiting = DBTaskResult.objects.filter(task_path=fill_wall.module_path, args_kwargs__args=[club.pk])
    running = waiting.running().filter(started_at__gt=timezone.now() - LOST)
    if not waiting.ready().exists() and not running.exists():
        try:
            with transaction.atomic():
                fill_wall.enqueue(club.pk)
        except DatabaseError as error:  # the wall shows what is stored; the next look asks again
            if not write_refused(error):
                raise
            log.exception("The wall could not be asked for")
