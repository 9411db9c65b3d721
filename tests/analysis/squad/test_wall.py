"""The squad wall: works, ownership, privacy, wrong verb, set aside and back, hidden names, filled by the queue."""

from datetime import timedelta

import pytest
from django.utils import timezone
from django_tasks_db.models import DBTaskResult

from analysis.models import DismissedReason, StoredProfile
from analysis.squad import tasks
from athletes.models import Athlete, Attempt, HealthNote, LiftSet, Meet, MeetEntry, TrainingDay

TODAY = timezone.localdate()


@pytest.fixture
def squad(cast):
    """Petra, of another coach: silent for three weeks; Ada: sore; Ivo without a log; nobody is measured."""
    ada, petra = cast.athletes["ada"], cast.athletes["petra"]
    for athlete, days in ((petra, (60, 40, 21)), (ada, (30, 9, 2))):
        for ago in days:
            LiftSet.objects.create(
                athlete=athlete, day=TODAY - timedelta(days=ago), style="sumo", load_typed="140", load_unit="kg",
                load_kg=140.0, rir_low=1, rir_high=1,
            )  # fmt: skip
    TrainingDay.objects.create(athlete=ada, day=TODAY, soreness=8, soreness_site="lower-back")
    tasks.fill_some(cast.quarry, seconds=60)
    return cast


def page_of(client, query="") -> str:
    return client.get(f"/squad/{query}").content.decode().split("<main")[1]


def row_of(page: str, name: str) -> str:
    return next(part for part in page.split("<li ") if f">{name}</a>" in part).split("</li>")[0]


def test_one_reason_one_button_and_the_heading_counts_them(signed_in, squad):
    page = page_of(signed_in("cato"))
    petra = row_of(page, "Petra Moss")
    assert "Four lengths first" in petra or "21 days without a logged set" in petra
    assert petra.count('class="do"') == 1
    ada = row_of(page, "Ada Fell")
    assert "Only you see this" in ada and "Talk to Ada" in ada
    assert "1 lifter needs you today" in page


@pytest.mark.parametrize(("who", "query"), [("stan", ""), ("cato", "?hide=1")])
def test_private_reasons_are_absent_for_staff_and_with_names_hidden(signed_in, squad, who, query):
    page = page_of(signed_in(who), query)
    assert "Only you see this" not in page and "Talk to" not in page and "lifter needs" not in page


def test_staff_read_the_same_bytes_with_and_without_the_health_entry(signed_in, squad):
    client = signed_in("stan")
    before = page_of(client)
    TrainingDay.objects.all().delete()
    HealthNote.objects.create(athlete=squad.athletes["petra"], kind="pain", site="hip", noted_on=TODAY)
    tasks.fill_some(squad.quarry, seconds=60)
    assert page_of(client) == before


def test_hidden_names_are_initials_without_a_way_to_set_aside(signed_in, squad):
    page = page_of(signed_in("cato"), "?hide=1")
    assert "Ada Fell" not in page and ">A. F.</a>" in page and "/aside/" not in page


def test_search_finds_by_part_of_the_name(signed_in, squad):
    page = page_of(signed_in("cato"), "?who=fELL")
    assert "Ada Fell" in page and "Petra Moss" not in page
    assert "Nobody by that name" in page_of(signed_in("cato"), "?who=zzz")


def test_ownership_and_wrong_verb(signed_in, squad):
    assert signed_in(None).get("/squad/").status_code == 302
    assert signed_in("ada").get("/squad/").status_code == 404
    assert "Ada Fell" not in signed_in("olga").get("/squad/").content.decode()
    assert signed_in("cato").post("/squad/").status_code == 405


def set_aside(client, athlete, page):
    row = row_of(page, athlete.name)
    posted = {key: row.split(f'name="{key}" value="')[1].split('"')[0] for key in ("code", "evidence")}
    return client.post(f"/squad/{athlete.pk}/aside/", posted)


def test_set_aside_goes_as_planned_with_undo_and_undo_brings_it_back(signed_in, squad):
    client, ada = signed_in("cato"), squad.athletes["ada"]
    assert set_aside(client, ada, page_of(client)).status_code == 302
    row = row_of(page_of(client), ada.name)
    assert "quiet" in row[:20] and "Undo" in row
    assert client.post(f"/squad/{ada.pk}/back/", {"code": "private"}).status_code == 302
    assert "Only you see this" in row_of(page_of(client), ada.name)


def test_undo_is_offered_for_ten_seconds_and_the_row_stays_quiet_that_day(signed_in, squad):
    client, ada = signed_in("cato"), squad.athletes["ada"]
    set_aside(client, ada, page_of(client))
    DismissedReason.objects.update(on=timezone.now() - timedelta(seconds=11))
    row = row_of(page_of(client), ada.name)
    assert "quiet" in row[:20] and "Undo" not in row


def test_a_reason_returns_only_with_new_evidence(signed_in, squad):
    client, ada = signed_in("cato"), squad.athletes["ada"]
    set_aside(client, ada, page_of(client))
    DismissedReason.objects.update(on=timezone.now() - timedelta(days=2))
    assert "Only you see this" not in page_of(client)
    TrainingDay.objects.filter(athlete=ada).update(day=TODAY - timedelta(days=1))
    TrainingDay.objects.create(athlete=ada, day=TODAY, soreness=9, soreness_site="lower-back")
    DismissedReason.objects.update(evidence=(TODAY - timedelta(days=1)).isoformat())
    tasks.fill_some(squad.quarry, seconds=60)
    assert "Only you see this" in page_of(client)


def test_only_the_coach_sets_aside_and_an_unknown_reason_changes_nothing(signed_in, squad):
    ada = squad.athletes["ada"]
    for who, status in (("stan", 403), ("ada", 403), ("olga", 404), ("cato", 302)):
        assert signed_in(who).post(f"/squad/{ada.pk}/aside/", {"code": "none", "evidence": "x"}).status_code == status
        assert signed_in(who).post(f"/squad/{ada.pk}/back/").status_code == status
    assert signed_in("cato").get(f"/squad/{ada.pk}/aside/").status_code == 405
    assert not DismissedReason.objects.exists()


def test_planned_attempts_settle_the_reason_at_once(signed_in, squad):
    ada, client = squad.athletes["ada"], signed_in("cato")
    meet = Meet.objects.create(club=squad.quarry, name="Spring", day=TODAY + timedelta(days=9))
    entry = MeetEntry.objects.create(meet=meet, athlete=ada)
    tasks.fill_some(squad.quarry, seconds=60)
    assert "Meet in 9 days, no attempts yet" in page_of(client)
    Attempt.objects.create(entry=entry, number=1, load_typed="130", load_kg=130.0)
    assert "no attempts yet" not in page_of(client)


def test_the_visit_computes_nothing_and_asks_the_queue_once(signed_in, cast, settings):
    settings.TASKS = {"default": {"BACKEND": "django_tasks_db.DatabaseBackend"}}
    client = signed_in("cato")
    page = page_of(client)
    assert page.count("<em") == Athlete.objects.filter(club=cast.quarry, active=True).count()
    assert not StoredProfile.objects.filter(kind="wall").exists()
    page_of(client)
    assert DBTaskResult.objects.filter(task_path=tasks.fill_wall.module_path).count() == 1


def test_a_lifter_whose_log_cannot_be_read_does_not_stop_the_others(signed_in, cast, monkeypatch, caplog):
    ada = cast.athletes["ada"]
    real = tasks.Sources.profile

    def breaks(self, kind):
        if self.athlete.pk == ada.pk:
            raise ZeroDivisionError
        return real(self, kind)

    monkeypatch.setattr(tasks.Sources, "profile", breaks)
    assert tasks.fill_some(cast.quarry, seconds=60) == 0
    page = page_of(signed_in("cato"))
    assert "updating" not in page and "quiet" in row_of(page, "Ada Fell")[:20]
    assert "could not be worked out" in caplog.text


def test_opening_the_wall_keeps_its_order_for_previous_and_next(signed_in, squad):
    client = signed_in("cato")
    client.get("/squad/")
    kept = client.session["squad_order"]
    assert kept[0] == squad.athletes["ada"].pk and len(kept) == squad.quarry.athletes.filter(active=True).count()
    client.get("/squad/?who=fell")
    assert client.session["squad_order"] == kept


def test_while_rows_are_missing_nobody_is_said_to_need_nothing():
    from analysis.squad.wall_page import heading_of

    assert heading_of(0, 0, 12, 12) == "Looking through 12 logs"
    assert heading_of(0, 3, 12, 1) == "Looking through 1 log"
    assert heading_of(2, 0, 12, 5) == "2 lifters need you today"
    assert heading_of(0, 0, 12, 0) == "Nobody needs you today"
