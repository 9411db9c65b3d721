"""What watches the server learns whether it can serve people, without signing in and without HTTPS."""

from datetime import timedelta
from uuid import uuid4

import pytest
from django.db import DatabaseError
from django.db.migrations.recorder import MigrationRecorder
from django.utils import timezone
from django_tasks_db.models import DBTaskResult, get_date_max

from athletes.operations import health


def test_the_process_answers_without_the_database(client, settings):
    settings.SECURE_SSL_REDIRECT = True
    answer = client.get("/healthz")  # pytest-django refuses the database here
    assert (answer.status_code, answer.content) == (200, b"ok\n")
    assert client.post("/healthz").status_code == 405


def test_a_server_with_its_database_is_ready(client, db):
    answer = client.get("/readyz")
    assert answer.status_code == 200
    assert answer.json() == {"database": "ok", "migrations": "ok", "worker": "ok", "oldest_task_s": 0}
    assert answer.headers["Cache-Control"] == "no-store"
    assert client.post("/readyz").status_code == 405


def test_a_database_that_does_not_answer_is_not_ready(client, db, monkeypatch):
    def gone() -> int:
        raise DatabaseError("connection to 10.0.0.7 refused")

    monkeypatch.setattr(health, "missing_migrations", gone)
    answer = client.get("/readyz")
    assert (answer.status_code, answer.json()) == (503, {"database": "does not answer"})


def test_a_database_without_a_migration_of_this_release_is_not_ready(client, db):
    MigrationRecorder.Migration.objects.filter(app="athletes").order_by("-id")[0].delete()
    answer = client.get("/readyz")
    assert answer.status_code == 503 and answer.json()["migrations"] == "1 missing"


@pytest.mark.parametrize(
    ("queued", "due", "worker"), [(599, None, "ok"), (602, None, "late"), (9000, 500, "ok"), (9000, 602, "late")]
)
def test_a_task_that_waits_ten_minutes_has_no_worker(client, db, queued, due, worker):
    """`due`: seconds since the time the task was put off to; None for one that was not put off."""
    now = timezone.now()
    put_off = get_date_max() if due is None else now - timedelta(seconds=due)
    row = DBTaskResult.objects.create(
        id=uuid4(), task_path="t", args_kwargs={"args": [], "kwargs": {}}, run_after=put_off
    )
    DBTaskResult.objects.filter(pk=row.pk).update(enqueued_at=now - timedelta(seconds=queued))
    answer = client.get("/readyz")
    assert answer.status_code == 200 and answer.json()["worker"] == worker


def test_a_task_for_a_later_hour_does_not_wait_yet(client, db):
    later = timezone.now() + timedelta(hours=1)
    row = DBTaskResult.objects.create(
        id=uuid4(), task_path="t", args_kwargs={"args": [], "kwargs": {}}, run_after=later
    )
    DBTaskResult.objects.filter(pk=row.pk).update(enqueued_at=timezone.now() - timedelta(hours=1))
    assert client.get("/readyz").json()["oldest_task_s"] == 0
