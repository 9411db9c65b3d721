"""Tonight's board: who is here, what comes next; never a body mass, never a soreness."""

import json
import re

import pytest
from django.urls import reverse
from django.utils import timezone

from athletes.models import AccessEntry, LiftSet, Measurement, MeasuringVisit, PlanItem, Presence, TrainingDay


@pytest.fixture
def board(signed_in):
    def open_as(name):
        return signed_in(name).get(reverse("tonight"))

    return open_as


def state_of(answer) -> dict:
    found = re.search(r'id="floor-state" type="application/json">(.*?)</script>', answer.content.decode(), re.S)
    return json.loads(found[1])


def test_staff_tick_who_is_here_without_any_script(signed_in, cast, board):
    ada, petra = cast.athletes["ada"], cast.athletes["petra"]
    client = signed_in("stan")
    client.post(reverse("tonight"), {"here": [ada.pk, petra.pk]})
    assert Presence.objects.count() == 2
    page = board("stan").content.decode()
    assert page.count('class="lifter"') == 2
    assert f'href="/athletes/{ada.pk}/lifts/new/?next=/tonight/"' in page
    client.post(reverse("tonight"), {"here": [petra.pk, "x", cast.athletes["hugo"].pk]})
    assert list(Presence.objects.values_list("athlete__name", flat=True)) == ["Petra Moss"]


def test_the_plain_form_starts_with_the_plan_and_the_usual_tags(signed_in, cast):
    ada, today = cast.athletes["ada"], timezone.localdate()
    LiftSet.objects.create(
        athlete=ada,
        day=today - timezone.timedelta(days=7),
        load_typed="170",
        load_unit="kg",
        load_kg=170,
        style="sumo",
        grip="hook",
        belt=True,
        reps_tried=3,
        reps_made=3,
    )
    PlanItem.objects.create(
        athlete=ada, day=today, sets=2, reps=2, load_typed="177,5", load_unit="kg", load_kg=177.5, style="sumo"
    )
    form = signed_in("stan").get(reverse("lift-new", args=[ada.pk])).context["form"]
    assert (form["load_typed"].value(), form["reps_tried"].value(), form["grip"].value()) == ("177,5", 2, "hook")
    assert form["belt"].value() is True
    saved = signed_in("stan").post(
        reverse("lift-new", args=[ada.pk]) + "?next=/tonight/",
        {
            "day": today,
            "lift": "deadlift",
            "load_typed": "177,5",
            "load_unit": "kg",
            "reps_tried": "2",
            "result": "made",
        },
    )
    assert saved.url == "/tonight/"
    away = signed_in("stan").post(
        reverse("lift-new", args=[ada.pk]) + "?next=https://elsewhere.example/",
        {
            "day": today,
            "lift": "deadlift",
            "load_typed": "177,5",
            "load_unit": "kg",
            "reps_tried": "2",
            "result": "made",
        },
    )
    assert away.url.startswith("/athletes/")


def test_no_body_mass_and_no_soreness_reach_the_board(cast, board):
    ada, today = cast.athletes["ada"], timezone.localdate()
    Presence.objects.create(athlete=ada, day=today)
    TrainingDay.objects.create(
        athlete=ada,
        day=today,
        mass_typed="74.3",
        mass_unit="kg",
        mass_kg=74.3,
        soreness=9,
        soreness_site="groin",
        note="private words",
    )
    visit = MeasuringVisit.objects.create(athlete=ada, day=today)
    Measurement.objects.create(visit=visit, key="mass", typed="74.3", unit="kg", value=74.3)
    LiftSet.objects.create(
        athlete=ada, day=today, load_typed="100", load_unit="kg", load_kg=100, result="stopped-pain", reps_made=0
    )
    for name in ("ona", "cato", "stan"):
        page = board(name).content.decode()
        for word in ("74.3", "soreness", "groin", "private words", "mass_kg"):
            assert word not in page
    told = {name: state_of(board(name))["lifters"][0]["sets"][0]["result"] for name in ("cato", "stan")}
    assert told == {"cato": "stopped (pain)", "stan": "stopped or not tried"}


def test_it_belongs_to_one_user_and_club_and_shows_only_that_club(cast, board):
    answer = board("stan")
    assert answer["X-Floor-Owner"] == f"{cast.stan.pk}-{cast.quarry.pk}"
    names = [one["name"] for one in state_of(answer)["lifters"]]
    assert names == ["Ada Fell", "Ivo Reed", "Petra Moss"]
    assert [one["name"] for one in state_of(board("olga"))["lifters"]] == ["Hugo Vale"]


def test_athletes_and_strangers_have_no_board(signed_in, board):
    assert board("ada").status_code == 404
    assert board("nils").status_code == 404
    assert signed_in(None).get(reverse("tonight")).status_code == 302
    assert signed_in("stan").put(reverse("tonight")).status_code == 405


def test_a_name_cannot_break_out_of_the_state(cast, board):
    cast.athletes["ada"].name = "</script><script>alert(1)</script>"
    cast.athletes["ada"].save()
    assert b"<script>alert" not in board("stan").content


def test_looking_at_the_board_is_noted_for_those_who_are_here(cast, board):
    Presence.objects.create(athlete=cast.athletes["ada"], day=timezone.localdate())
    board("stan")
    board("stan")
    assert list(AccessEntry.objects.values_list("athlete__name", "viewer__username", "page")) == [
        ("Ada Fell", "stan", "tonight")
    ]


def test_the_number_of_queries_does_not_grow_with_the_squad(cast, signed_in, django_assert_max_num_queries):
    today = timezone.localdate()
    for n in range(40):
        athlete = cast.quarry.athletes.create(name=f"Lifter {n}", sex="f")
        Presence.objects.create(athlete=athlete, day=today)
        LiftSet.objects.create(
            athlete=athlete, day=today, load_typed="100", load_unit="kg", load_kg=100, author=cast.stan
        )
    client = signed_in("stan")
    client.get(reverse("tonight"))
    with django_assert_max_num_queries(14):
        client.get(reverse("tonight"))
