"""The squad's running trials side by side: works, ownership, wrong verb; read from what is stored, never stale."""

from datetime import timedelta

import pytest
from django.utils import timezone

from analysis.store import profiles
from analysis.trials import squad_views as squad_trials
from athletes.models import LiftSet, Trial

TODAY = timezone.localdate()
URL = "/squad/trials/"


def begin(athlete, **more):
    base = {
        "new_style": "sumo", "old_style": "conventional", "started_on": TODAY - timedelta(weeks=3), "weeks": 12,
        "pulls_a_week": 1.5, "decide_on": TODAY + timedelta(weeks=9), "no_baseline_reason": "first lifts",
    }  # fmt: skip
    return Trial.objects.create(athlete=athlete, **{**base, **more})


@pytest.fixture
def two(cast):
    return [begin(cast.athletes[name]) for name in ("ada", "petra")]


def text(client, query=""):
    answer = client.get(URL + query)
    assert answer.status_code == 200
    return answer.content.decode()


def test_works_the_next_decision_first(signed_in, two):
    Trial.objects.filter(pk=two[1].pk).update(decide_on=TODAY + timedelta(days=2))
    page = text(signed_in("cato"))
    assert 0 < page.index("Petra Moss") < page.index("Ada Fell")
    assert "0 sessions" in page and "updating" not in page


def test_ownership_another_clubs_trials_are_not_shown(signed_in, two):
    assert "No trial is running" in text(signed_in("olga"))
    assert signed_in("ada").get(URL).status_code == 404


def test_wrong_verb_is_refused(signed_in, two):
    assert signed_in("cato").post(URL).status_code == 405


def test_a_new_set_shows_at_the_next_visit(signed_in, two):
    cato = signed_in("cato")
    text(cato)
    LiftSet.objects.create(
        athlete=two[0].athlete, day=TODAY, load_typed="120", load_unit="kg", load_kg=120.0, style="sumo", trial=two[0],
        in_new_style="yes", rir_low=2, rir_high=2,
    )  # fmt: skip
    assert "1 session;" in text(cato)


def test_a_trial_that_ended_is_gone_and_the_next_one_is_judged_anew(signed_in, two):
    cato = signed_in("cato")
    text(cato)
    Trial.objects.filter(pk=two[0].pk).update(status="decided")
    assert "Ada Fell" not in text(cato)
    begin(two[0].athlete, new_style="wide-sumo")
    page = text(cato)
    assert "Ada Fell" in page and "wide-sumo" in page


def test_what_is_not_judged_yet_says_so_and_fills_in(signed_in, two, monkeypatch):
    real = profiles.refresh
    monkeypatch.setattr(squad_trials, "refresh", lambda *given: real(*given, seconds=0.0))
    cato = signed_in("cato")
    first = text(cato)
    assert "Updating 1 of them" in first and first.count("<em>updating</em>") == 1
    assert "updating" not in text(cato)


def test_many_trials_come_in_pages(signed_in, two, monkeypatch):
    monkeypatch.setattr(squad_trials, "A_PAGE", 1)
    cato = signed_in("cato")
    assert "1 to 1 of 2" in text(cato) and "2 to 2 of 2" in text(cato, "?page=2")
    assert "2 to 2 of 2" in text(cato, "?page=99")
