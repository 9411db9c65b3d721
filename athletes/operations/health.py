"""Two addresses for whatever watches the server: does the process answer, and can it serve people."""

import logging

from django.contrib.auth.decorators import login_not_required
from django.db import DatabaseError, connection
from django.db.migrations.executor import MigrationExecutor
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.utils import timezone
from django.views.decorators.http import require_safe
from django_tasks_db.models import DBTaskResult

logger = logging.getLogger(__name__)
# A worker looks every second and no step takes longer than a few; a task that waits ten minutes has no worker.
WORKER_LATE = 600


@login_not_required
@require_safe
def alive(request: HttpRequest) -> HttpResponse:
    """ "ok" as long as the process answers; touches no database, so a slow one does not get the process killed."""
    return HttpResponse("ok\n", content_type="text/plain", headers={"Cache-Control": "no-store"})


@login_not_required
@require_safe
def ready(request: HttpRequest) -> JsonResponse:
    """200 when people can be served, else 503: the database answers and has every migration.

    `oldest_task_s` says how many seconds the longest waiting task has been waiting, and `worker` "late" past ten
    minutes; pages work without a worker, so that alone is no 503.
    """
    try:
        missing = missing_migrations()
        waits = oldest_wait() if not missing else 0.0
    except DatabaseError:
        logger.exception("The database does not answer")
        return _said(503, database="does not answer")
    if missing:
        return _said(503, database="ok", migrations=f"{missing} missing")
    worker = "late" if waits > WORKER_LATE else "ok"
    return _said(200, database="ok", migrations="ok", worker=worker, oldest_task_s=round(waits))


def missing_migrations() -> int:
    """How many migrations of this release the database has not had yet."""
    executor = MigrationExecutor(connection)
    return len(executor.migration_plan(executor.loader.graph.leaf_nodes()))


def oldest_wait() -> float:
    """Seconds that the longest waiting task has been waiting, 0 with an empty queue."""
    now = timezone.now()
    waits = DBTaskResult.objects.ready().values_list("enqueued_at", "run_after")
    # a task for a later time waits from that time on; one for at once has its time in the year 9999
    begins = [max(queued, due) if due <= now else queued for queued, due in waits.order_by("enqueued_at")[:1000]]
    return max(((now - begin).total_seconds() for begin in begins), default=0.0)


def _said(status: int, **parts: object) -> JsonResponse:
    return JsonResponse(parts, status=status, headers={"Cache-Control": "no-store"})
