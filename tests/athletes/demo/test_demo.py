"""The demo: varied, whole, the same twice, and impossible anywhere but in debug on localhost."""

from datetime import date
from io import StringIO

import pytest
from django.core.management import CommandError, call_command
from django.test import Client
from django.urls import reverse

from athletes.demo.build import DEMO_PASSWORD, build_demo, remove_demo
from athletes.demo.lifters import KILN_LANE, WEIRSIDE
from athletes.models import Athlete, Club, LiftSet, Measurement, Membership, PlanItem, Trial, User
from athletes.models.choices import Role
from athletes.web.checks import no_demo_log_ins_abroad

TODAY = date(2026, 11, 25)


@pytest.fixture
def at_home(settings):
    settings.DEBUG = True
    settings.ALLOWED_HOSTS = ["localhost", "127.0.0.1", "[::1]"]
    return settings


@pytest.fixture
def demo(db):
    build_demo(TODAY)


def told() -> list[tuple[object, ...]]:
    """Everything of the logs that a page could show, without row numbers."""
    rows = LiftSet.objects.order_by("uid")
    return list(rows.values_list("uid", "day", "load_typed", "reps_made", "result", "miss_position", "athlete__name"))


def test_two_clubs_40_lifters_two_minors_all_builds(demo):
    assert Club.objects.count() == 2
    assert Athlete.objects.count() == len(KILN_LANE) + len(WEIRSIDE) == 40
    assert {a.age_on(TODAY) for a in Athlete.objects.filter(standing="under-18")} == {15, 16}
    lifters = KILN_LANE + WEIRSIDE
    assert {lifter.sex for lifter in lifters} == {"f", "m"}
    assert max(lifter.age for lifter in lifters) >= 55
    assert max(lifter.stature for lifter in lifters) - min(lifter.stature for lifter in lifters) > 30
    assert {lifter.style for lifter in lifters} == {"conventional", "sumo", "wide-sumo"}


def test_the_stories_stand_in_the_logs(demo):
    def misses(name: str) -> set[tuple[str, str]]:
        rows = LiftSet.objects.filter(athlete__name=name, result="missed")
        return set(rows.values_list("miss_position", "gave_way"))

    assert {seen for _, seen in misses("Milo Trask")} == {"grip-opened"}
    assert {at for at, _ in misses("Dorian Pike")} <= {"lockout", "mid-thigh"}
    assert {at for at, _ in misses("Greta Sollis")} <= {"floor", "mid-shin"}
    assert len({at for at, _ in misses("Kester Voight")}) >= 4
    assert LiftSet.objects.filter(athlete__name="Bram Undersee").count() < 100
    assert LiftSet.objects.filter(athlete__name="Pia Rowanby").count() == 0
    assert not misses("Lotte Brandreth") and not misses("Sefa Marrow")
    assert set(Trial.objects.values_list("status", flat=True)) == {"decided", "running"}
    assert set(Trial.objects.filter(status="decided").values_list("decisions__verdict", flat=True)) == {"adopt", "drop"}


def test_everybody_measured_was_measured_plausibly(demo):
    from athletes.measuring.services import measures_of
    from athletes.units.builds import oddities

    for athlete in Athlete.objects.all():
        means = {k: m.latest.repeats.mean for k, m in measures_of(athlete, TODAY, with_mass=True).items()}
        assert oddities(means, athlete.sex, young=False) == [], athlete.name
    assert Measurement.objects.filter(visit__athlete__name="Pia Rowanby").count() == 0


def test_the_same_day_gives_the_same_rows(db):
    build_demo(TODAY)
    first = told()
    remove_demo()
    assert not LiftSet.objects.exists() and not User.objects.exists()
    build_demo(TODAY)
    assert told() == first


def test_loading_twice_changes_nothing_and_prints_the_log_ins(db, at_home):
    out = StringIO()
    call_command("load_demo", stdout=out)
    first = told()
    call_command("load_demo", stdout=StringIO())
    assert told() == first
    assert PlanItem.objects.exists()
    for email in ("owner@kiln.example", "coach@weir.example", "athlete@weir.example"):
        assert email in out.getvalue()
    assert DEMO_PASSWORD in out.getvalue()


def test_removing_the_demo_leaves_other_clubs_alone(demo, cast):
    demo_user = User.objects.filter(is_demo=True).first()
    Membership.objects.create(club=cast.quarry, user=demo_user, role=Role.OWNER)
    remove_demo()
    assert set(Club.objects.values_list("name", flat=True)) == {"Quarry Hall", "Harbour Rack"}


@pytest.mark.parametrize(
    "debug,hosts", [(False, ["localhost"]), (True, ["localhost", "club.example"]), (False, ["club.example"])]
)
def test_load_demo_refuses_anywhere_else(db, settings, debug, hosts):
    settings.DEBUG, settings.ALLOWED_HOSTS = debug, hosts
    with pytest.raises(CommandError, match="Nothing was loaded"):
        call_command("load_demo")
    assert not User.objects.exists()


def test_the_system_check_refuses_demo_log_ins_abroad(demo, settings):
    settings.DEBUG, settings.ALLOWED_HOSTS = False, ["club.example"]
    assert [e.id for e in no_demo_log_ins_abroad()] == ["athletes.E001"]
    call_command("load_demo", "--remove", stdout=StringIO())
    assert no_demo_log_ins_abroad() == []


def test_the_system_check_is_quiet_at_home(demo, at_home):
    assert no_demo_log_ins_abroad() == []


def sign_in(host: str, address: str = "127.0.0.1") -> Client:
    client = Client(HTTP_HOST=host, REMOTE_ADDR=address)
    client.answer = client.post(reverse("sign-in"), {"username": "coach@kiln.example", "password": DEMO_PASSWORD})
    return client


def test_a_demo_log_in_opens_at_home_only(demo, at_home):
    assert "_auth_user_id" in sign_in("localhost").session
    assert "_auth_user_id" not in sign_in("localhost", "203.0.113.9").session
    at_home.ALLOWED_HOSTS = ["localhost", "club.example"]
    assert "_auth_user_id" not in sign_in("club.example").session
    at_home.DEBUG = False
    refused = sign_in("localhost")
    assert "_auth_user_id" not in refused.session
    assert "Demo log-ins open only in debug" in refused.answer.content.decode()
