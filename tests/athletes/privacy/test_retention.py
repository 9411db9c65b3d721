"""What is past its days is thrown away, and the privacy page says the same days."""

from datetime import date, timedelta

import pytest
from axes.models import AccessAttempt, AccessFailureLog, AccessLog
from django.core.files.base import ContentFile
from django.core.management import call_command
from django.utils import timezone
from django_tasks import TaskResultStatus
from django_tasks_db.models import DBTaskResult

from athletes.accounts.throttle import hit_rate_limit
from athletes.models import (
    AccessEntry,
    AuditEntry,
    EmailChange,
    HealthNote,
    ImportBatch,
    ImportRow,
    Invitation,
    Picture,
    PreparedFile,
    SignInSession,
    Tally,
)
from athletes.privacy.retention import PRUNERS, prune


@pytest.fixture
def aged(cast, settings):
    """Makes one of each kind, `days` old."""
    ada = cast.athletes["ada"]

    def make(days: int) -> None:
        then = timezone.now() - timedelta(days=days)
        AccessEntry.objects.create(athlete=ada, viewer=cast.stan, day=then.date(), page=f"p{days}")
        AuditEntry.objects.filter(pk=AuditEntry.objects.create(athlete=ada, action="a", target="t").pk).update(at=then)
        Invitation.objects.create(
            club=cast.quarry, role="staff", email="n@example.test", token_hash=f"{days:064d}", expires=then
        )
        batch = ImportBatch.objects.create(club=cast.quarry, file_name="f.csv")
        batch.file.save("f.csv", ContentFile(b"x"), save=True)
        ImportRow.objects.create(batch=batch, number=1, raw=["100x5"], status="ok")
        ImportBatch.objects.filter(pk=batch.pk).update(created=then)
        day = then.date()
        HealthNote.objects.create(athlete=ada, kind="pain", site="hip", noted_on=day, ended_on=day)
        Picture.objects.create(athlete=ada, taken_on=day, file="pictures/none.jpg")
        row = AccessAttempt.objects.create(username=f"u{days}", failures_since_start=1)
        AccessAttempt.objects.filter(pk=row.pk).update(attempt_time=then)
        change = EmailChange.objects.create(user=cast.ada, old_email="o@example.test", new_email="n@example.test")
        EmailChange.objects.filter(pk=change.pk).update(asked=then)
        DBTaskResult.objects.create(
            status=TaskResultStatus.FAILED, finished_at=then, run_after=then, args_kwargs={}, task_path="t"
        )
        file = PreparedFile.objects.create(club=cast.quarry, asked_by=cast.ona, kind="squad-sets", name="s.csv")
        PreparedFile.objects.filter(pk=file.pk).update(created=then)

    return make


def counts() -> dict[str, int]:
    return {
        "looks": AccessEntry.objects.count(),
        "changes": AuditEntry.objects.count(),
        "invitations": Invitation.objects.count(),
        "import files": ImportBatch.objects.exclude(file="").count(),
        "import lines": ImportRow.objects.exclude(raw=[]).count(),
        "ended health notes": HealthNote.objects.count(),
        "pictures": Picture.objects.count(),
        "sign-in tries": AccessAttempt.objects.count(),
        "address changes": EmailChange.objects.count(),
        "ended tasks": DBTaskResult.objects.count(),
        "prepared files": PreparedFile.objects.count(),
    }


@pytest.mark.parametrize("kind", sorted(PRUNERS))
def test_each_kind_goes_after_its_days_and_not_before(aged, settings, kind):
    days = settings.RETENTION_DAYS[kind]
    aged(days - 2)
    aged(days + 2)
    before = counts()[kind]
    prune()
    assert (before, counts()[kind]) == (2, 1)


@pytest.mark.parametrize("model", [AccessLog, AccessFailureLog])
def test_the_logs_of_signing_in_go_after_their_days(db, settings, model):
    days = settings.RETENTION_DAYS["sign-in tries"]
    for age in (days - 1, days + 1):
        row = model.objects.create(username="u")
        model.objects.filter(pk=row.pk).update(attempt_time=timezone.now() - timedelta(days=age))
    prune()
    assert model.objects.count() == 1


def test_every_kind_with_days_can_be_thrown_away(settings):
    assert settings.RETENTION_DAYS.keys() == PRUNERS.keys()


def test_an_ongoing_health_note_stays(cast):
    HealthNote.objects.create(athlete=cast.athletes["ada"], kind="injury", site="hip", noted_on=date(2001, 1, 1))
    prune()
    assert HealthNote.objects.count() == 1


def test_browsers_whose_session_is_over_go(cast):
    SignInSession.objects.create(user=cast.ada, session_key="long-gone")
    prune()
    assert not SignInSession.objects.exists()


def test_counts_of_tries_go_once_their_time_is_over(cast):
    hit_rate_limit("reset", "a@example.test", 5, 3600)
    hit_rate_limit("reset", "b@example.test", 5, -1)
    prune()
    assert Tally.objects.count() == 1


def test_the_command_says_what_went(aged, settings, capsys):
    aged(5000)
    call_command("prune")
    assert "looks: 1" in capsys.readouterr().out


def test_the_privacy_page_says_the_same_days(signed_in, settings):
    settings.RETENTION_DAYS = dict.fromkeys(settings.RETENTION_DAYS, 12345)
    page = signed_in(None).get("/privacy/").content.decode()
    assert page.count("12345") == len(settings.RETENTION_DAYS)
