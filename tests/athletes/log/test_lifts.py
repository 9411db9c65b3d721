"""The lift log: listed, added, corrected with its history, taken back and put back."""

from datetime import timedelta

import pytest
from django.urls import reverse

from athletes.models import AuditEntry, LiftSet
from tests.athletes.log.lift_forms import DAY, a_set, post


def test_the_list_shows_loads_as_typed_with_unit_result_and_tags(signed_in, ada):
    a_set(
        ada,
        load_typed="405",
        load_unit="lb",
        load=183.7,
        belt=True,
        grip="hook",
        reps_made=2,
        reps_tried=3,
        result="missed",
        miss_position="at-knee",
        gave_way="back-rounded",
    )
    LiftSet.objects.update(load_typed="405", load_unit="lb")
    page = signed_in("stan").get(reverse("lifts", args=[ada.pk])).content.decode()
    for words in ("405 lb", "2 of 3", "sumo deadlift", "hook, belt", "missed", "at the knee; back rounded"):
        assert words in page


def test_the_list_is_filtered_and_paged(signed_in, ada):
    LiftSet.objects.bulk_create(
        LiftSet(athlete=ada, day=DAY - timedelta(days=n), load_typed=str(100 + n), load_unit="kg", load_kg=100 + n)
        for n in range(60)
    )
    a_set(ada, load=250.0, lift="squat", style="")
    client, where = signed_in("ada"), reverse("lifts", args=[ada.pk])
    assert b"page 1 of 2" in client.get(where).content
    assert b"159 kg" in client.get(where + "?page=2").content
    squats = client.get(where + "?lift=squat").content
    assert b"250 kg" in squats and b"100 kg" not in squats
    assert b"No set fits" in client.get(where + "?since=2027-01-01").content
    wrong = client.get(where + "?since=2026-02-30&lift=juggling")
    assert wrong.status_code == 200 and b'role="alert"' in wrong.content and b"61 sets" in wrong.content


def test_staff_coach_and_the_athlete_log_a_set(signed_in, ada):
    for name in ("stan", "cato", "bea", "ona", "ada"):
        assert post(signed_in(name), ada).status_code == 302
    assert [row.author.username for row in ada.sets.order_by("order")] == ["stan", "cato", "bea", "ona", "ada"]
    assert list(ada.sets.order_by("order").values_list("order", flat=True)) == [1, 2, 3, 4, 5]
    assert AuditEntry.objects.filter(athlete=ada, action="added").count() == 5


def test_every_field_of_a_set_is_kept(signed_in, cast, ada):
    bar = cast.quarry.bars.create(name="Whip", kind="flexible")
    post(
        signed_in("stan"),
        ada,
        style="sumo",
        bar=bar.pk,
        grip="mixed",
        straps="on",
        belt="on",
        suit="on",
        paused="on",
        start="deficit",
        start_typed="2",
        start_unit="in",
        disc_diameter_cm="42,5",
        effort_typed="8-9",
        reps_tried="3",
        reps_made="2",
        result="missed",
        miss_position="below-knee",
        second_position="at-knee",
        gave_way="hips-shot-up",
        shape="rounded-during",
        shape_region="lower",
        pull_seconds="4,2",
        is_test="on",
        in_new_style="partly",
        note="belt one hole tighter",
    )
    row = ada.sets.get()
    assert (row.bar, row.bar_kind, row.grip, row.style) == (bar, "flexible", "mixed", "sumo")
    assert (row.straps, row.belt, row.suit, row.paused, row.dead_stop, row.is_test) == (
        True,
        True,
        True,
        True,
        False,
        True,
    )
    assert (row.start, row.start_typed, row.start_unit, row.start_cm) == ("deficit", "2", "in", 5.08)
    assert (row.disc_diameter_cm, row.effort_typed, row.rir_low, row.rir_high) == (42.5, "8-9", 1.0, 2.0)
    assert (row.reps_made, row.reps_tried, row.result) == (2, 3, "missed")
    assert (row.miss_position, row.second_position, row.gave_way) == ("below-knee", "at-knee", "hips-shot-up")
    assert (row.shape, row.shape_region, row.pull_seconds, row.in_new_style) == (
        "rounded-during",
        "lower",
        4.2,
        "partly",
    )
    assert row.note == "belt one hole tighter"


def test_reps_made_follow_from_the_result_when_left_empty(signed_in, ada):
    client = signed_in("stan")
    post(client, ada)
    post(client, ada, result="missed")
    post(client, ada, result="not-tried")
    assert list(ada.sets.order_by("order").values_list("reps_made", flat=True)) == [3, 2, 0]


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"load_typed": "heavy"}, "unit “heavy”"),
        ({"load_typed": "-200"}, "not with a minus"),
        ({"load_typed": "1600", "load_unit": "lb"}, "more than 700 kg"),
        ({"day": "2062-03-04"}, "in the future"),
        ({"day": "2026-02-30"}, "valid date"),
        ({"day": "1926-03-04"}, "too long ago"),
        ({"effort_typed": "12"}, "end at 10"),
        ({"reps_made": "4"}, "4 made of 3 tried cannot be"),
        ({"reps_made": "0"}, "no rep was made"),
        ({"reps_made": "3", "result": "missed"}, "all 3 reps are noted as made"),
        ({"result": "no-lift"}, "A no lift needs the rule"),
        ({"rule_reason": "not-erect"}, "belongs to a no lift"),
        ({"miss_position": "lockout"}, "belongs to a missed lift"),
        ({"result": "missed", "slowest_at": "lockout"}, "belongs to a made set"),
        ({"result": "missed", "second_position": "lockout"}, "needs a first one"),
        ({"start": "block"}, "how high the block is"),
        ({"start_typed": "10 cm"}, "the start says floor"),
        ({"start": "block", "start_typed": "tall"}, "unit “tall”"),
        ({"lift": "squat", "style": "sumo"}, "belongs to a deadlift"),
        ({"shape_region": "lower"}, "not noted as rounded"),
        ({"pull_seconds": "quick"}, "Time of the pull “quick”"),
        ({"note": "x" * 401}, "400"),
    ],
)
def test_what_cannot_be_is_said_at_its_field_and_nothing_typed_is_lost(signed_in, ada, changes, says):
    answer = post(signed_in("stan"), ada, **changes)
    assert answer.status_code == 422
    page = answer.content.decode()
    assert says in page and "nothing you typed is lost" in page
    for typed in changes.values():
        assert typed in page
    assert not ada.sets.exists()


def test_a_bar_of_another_club_is_not_among_the_choices(signed_in, cast, ada):
    theirs = cast.harbour.bars.create(name="Not ours", kind="stiff")
    answer = post(signed_in("stan"), ada, bar=theirs.pk)
    assert answer.status_code == 422 and b"valid choice" in answer.content


def test_a_heavy_made_set_is_asked_about_once_in_one_tap(signed_in, ada):
    a_set(ada, load=200.0, day=DAY - timedelta(days=7))
    client = signed_in("stan")
    light = post(client, ada, load_typed="160", style="sumo")
    assert "heavy" not in light.url
    heavy = post(client, ada, load_typed="170", style="sumo")
    row = ada.sets.get(load_kg=170)
    assert heavy.url.endswith(f"?heavy={row.pk}")
    assert b"Where was the bar slowest?" in client.get(heavy.url).content
    client.post(reverse("lift-slowest", args=[ada.pk, row.pk]), {"slowest_at": "mid-shin"})
    row.refresh_from_db()
    assert row.slowest_at == "mid-shin"
    assert b"Where was the bar slowest?" not in client.get(heavy.url).content


def test_an_effort_of_8_5_and_up_counts_as_heavy_too(signed_in, ada):
    a_set(ada, load=300.0, day=DAY - timedelta(days=7))
    assert "heavy" in post(signed_in("stan"), ada, load_typed="100", style="sumo", effort_typed="8.5").url
    assert "heavy" not in post(signed_in("stan"), ada, load_typed="100", style="sumo", effort_typed="8").url
