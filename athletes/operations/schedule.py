"""What the worker does by itself at every full hour: each part says what it wants of an hour.

One task waits for the next hour; running, it enqueues the one after. The start of a worker sees to it that one waits,
so a server whose worker stood still goes on with the hour at hand; hours that were missed are not made up for.
"""

import logging
from collections.abc import Callable
from datetime import datetime, timedelta

from django.utils import timezone
from django_tasks import TaskResultStatus, task
from django_tasks_db.models import DBTaskResult

from athletes.privacy.retention import prune

PRUNE_AT = 3  # o'clock UTC
PAST = timedelta(minutes=1)  # after the hour, so that a club's new day has begun by every clock
EVERY_HOUR: list[Callable[[datetime], None]] = []  # filled by `at_every_hour` when an app is ready
logger = logging.getLogger(__name__)


def at_every_hour(work: Callable[[datetime], None]) -> None:
    """Have `work` called with the hour (UTC) by the worker once an hour; what takes long it enqueues."""
    EVERY_HOUR.append(work)


@task()
def strike(hour: str) -> None:
    """Do what is due at an hour, given as ISO text; one part that fails does not keep the others from their work."""
    at = datetime.fromisoformat(hour)
    enqueue_next(at)
    for work in EVERY_HOUR:
        try:
            work(at)
        except Exception:
            logger.exception("Hourly work failed")


def enqueue_next(hour: datetime) -> None:
    """Have the hour after `hour` struck, unless an hour waits to be struck already."""
    if strike.get_backend().supports_defer and not waits():
        coming = max(hour, full_hour(timezone.now())) + timedelta(hours=1)
        strike.using(run_after=coming + PAST).enqueue(coming.isoformat())


def waits() -> bool:
    return DBTaskResult.objects.filter(task_path=strike.module_path, status=TaskResultStatus.READY).exists()


def full_hour(now: datetime) -> datetime:
    return now.replace(minute=0, second=0, microsecond=0)


def keep_time() -> None:
    """At the start of a worker: strike the hour at hand unless one waits."""
    if not waits():
        strike.enqueue(full_hour(timezone.now()).isoformat())


def prune_nightly(hour: datetime) -> None:
    if hour.hour == PRUNE_AT:
        prune()
