"""Find "all misses at the knee over 90 % this year"."""

from datetime import date, timedelta

import pytest
from django.utils import timezone

from analysis.weak_link import misses_views as view
from athletes.models import LiftSet

URL = "/squad/misses/"


@pytest.fixture
def logged(cast):
    ada, today = cast.athletes["ada"], timezone.localdate()
    base = {"athlete": ada, "load_unit": "kg", "style": "sumo"}
    missed = {**base, "result": "missed", "reps_made": 0, "miss_position": "at-knee"}
    make = LiftSet.objects.create
    make(**base, day=today - timedelta(days=400), load_typed="150", load_kg=150)
    make(**missed, day=today, load_typed="141", load_kg=141)
    make(**missed, day=today, load_typed="120", load_kg=120)
    make(**{**missed, "miss_position": "lockout"}, day=today, load_typed="149", load_kg=149)
    make(**missed, day=date(today.year, 1, 1) - timedelta(days=1), load_typed="146", load_kg=146)
    return ada


def test_works_with_share_place_and_year(signed_in, logged):
    page = signed_in("cato").get(URL, {"position": "at-knee", "share": "90"}).content.decode()
    assert "141 kg" in page and "94 %" in page
    assert "120 kg" not in page and "149 kg" not in page and "146 kg" not in page


def test_ownership_only_the_own_club_is_searched(signed_in, logged):
    assert "141 kg" not in signed_in("olga").get(URL).content.decode()
    assert signed_in("ada").get(URL).status_code == 404


def test_a_wrong_value_gets_a_message_and_is_kept(signed_in, logged):
    page = signed_in("cato").get(URL, {"share": "ninety", "since": "2026-02-30"})
    assert page.status_code == 200
    assert "ninety" in page.content.decode() and "2026-02-30" in page.content.decode()
    assert "not run" in page.content.decode()


def test_wrong_verb_is_refused(signed_in, cast):
    assert signed_in("cato").post(URL).status_code == 405


def test_many_misses_come_in_pages_that_keep_the_search(signed_in, logged, monkeypatch):
    monkeypatch.setattr(view, "A_PAGE", 1)
    first = signed_in("cato").get(URL, {"position": "at-knee"}).content.decode()
    assert "2 misses since" in first and "1 to 1 of 2" in first and "?position=at-knee&amp;page=2" in first
    second = signed_in("cato").get(URL, {"position": "at-knee", "page": "2"}).content.decode()
    assert ("141 kg" in first) != ("141 kg" in second) and "2 to 2 of 2" in second


def test_the_share_is_of_the_heaviest_made_before_the_day_in_the_same_style_and_start(signed_in, logged):
    today = timezone.localdate()
    base = {"athlete": logged, "load_unit": "kg", "load_typed": "200", "load_kg": 200}
    LiftSet.objects.create(**base, day=today, style="sumo")  # made, but not before the day
    LiftSet.objects.create(**base, day=today - timedelta(days=9), style="conventional")
    LiftSet.objects.create(**base, day=today - timedelta(days=9), style="sumo", start="block", start_cm=20)
    page = signed_in("cato").get(URL, {"position": "lockout"}).content.decode()
    assert "149 kg" in page and "99 %" in page


def test_without_a_pull_made_before_there_is_no_share(signed_in, logged):
    LiftSet.objects.filter(result="made").delete()
    assert " %</td>" not in signed_in("cato").get(URL).content.decode()
    assert "No miss" in signed_in("cato").get(URL, {"share": "1"}).content.decode()
