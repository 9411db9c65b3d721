"""Every full hour is struck once; what one part does wrong keeps nobody from their work."""

from datetime import UTC, datetime, timedelta

import pytest
from django.utils import timezone
from django_tasks_db.models import DBTaskResult

from athletes.operations import schedule

HOUR = datetime(2026, 11, 28, 3, tzinfo=UTC)


@pytest.fixture
def queue(db, settings):
    """Tasks wait in the database."""
    settings.TASKS = {"default": {"BACKEND": settings.TASK_BACKENDS["database"]}}
    return DBTaskResult.objects.filter(task_path=schedule.strike.module_path)


def test_the_start_of_a_worker_strikes_the_hour_at_hand_once(queue):
    schedule.keep_time()
    schedule.keep_time()
    (row,) = queue
    assert row.args_kwargs["args"] == [schedule.full_hour(timezone.now()).isoformat()]


def test_an_hour_that_is_struck_has_the_next_one_struck_a_minute_past(queue, monkeypatch):
    monkeypatch.setattr(schedule, "EVERY_HOUR", [])
    schedule.strike.func(schedule.full_hour(timezone.now()).isoformat())
    schedule.strike.func(schedule.full_hour(timezone.now()).isoformat())
    (row,) = queue
    assert row.run_after == schedule.full_hour(timezone.now()) + timedelta(hours=1, minutes=1)


def test_an_hour_struck_late_is_followed_by_the_coming_one_not_by_those_missed(queue, monkeypatch):
    monkeypatch.setattr(schedule, "EVERY_HOUR", [])
    schedule.strike.func((timezone.now() - timedelta(hours=30)).isoformat())
    assert queue.get().run_after > timezone.now()


def test_one_part_that_fails_does_not_keep_the_others_from_their_work(queue, monkeypatch, caplog):
    done = []

    def fails(hour: datetime) -> None:
        raise RuntimeError

    monkeypatch.setattr(schedule, "EVERY_HOUR", [fails, done.append])
    schedule.strike.func(HOUR.isoformat())
    assert done == [HOUR] and "Hourly work failed" in caplog.text


@pytest.mark.parametrize(("hour", "pruned"), [(2, 0), (3, 1), (4, 0)])
def test_old_things_are_thrown_away_at_three(monkeypatch, hour, pruned):
    calls = []
    monkeypatch.setattr(schedule, "prune", lambda: calls.append(1))
    schedule.prune_nightly(HOUR.replace(hour=hour))
    assert len(calls) == pruned


def test_both_apps_have_their_part():
    names = {work.__name__ for work in schedule.EVERY_HOUR}
    assert names == {"prune_nightly", "refresh_new_days"}
