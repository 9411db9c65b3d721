"""Today: what each reader sees, why, the picture, the coach's request, private parts, and the page after a miss."""

from datetime import timedelta

import pytest
from django.utils import timezone

from athletes.models import Decision, LiftSet, PlanItem, Trial

TODAY = timezone.localdate()


@pytest.fixture
def ada(cast):
    ada = cast.athletes["ada"]
    for week in range(8, 0, -1):
        LiftSet.objects.create(
            athlete=ada, day=TODAY - timedelta(weeks=week), style="sumo", load_typed="300", load_unit="lb",
            load_kg=136.077711, rir_low=0, rir_high=0, bar_kind="stiff", grip="hook",
        )  # fmt: skip
    PlanItem.objects.create(
        athlete=ada, day=TODAY, order=1, sets=1, reps=3, load_typed="110", load_unit="kg", load_kg=110.0, style="sumo",
        cue="Knees out", rpe_cap=8,
    )  # fmt: skip
    return ada


def page_of(client, athlete) -> str:
    return client.get(f"/athletes/{athlete.pk}/").content.decode().split("<main")[1].split("</main>")[0]


@pytest.mark.parametrize("who", ["ada", "cato", "stan"])
def test_the_set_the_cue_and_where_to_stop_stand_first(signed_in, ada, who):
    page = page_of(signed_in(who), ada)
    assert "<span data-load>110</span>" in page and "kg × <span data-reps>3</span>" in page
    assert '<p class="cue">Knees out</p>' in page and "Stop with 2 reps left." in page
    assert "checked" not in page, "no key is chosen beforehand"
    assert page.index("Made</button>") > page.index("Pain: stop")


def test_the_picture_is_told_in_the_readers_own_unit(signed_in, cast, ada):
    cast.ada.weight_unit = "lb"
    cast.ada.save()
    page = page_of(signed_in("ada"), ada)
    assert "Sumo is steady over half a year." in page and ">300</text>" in page


def test_the_coachs_own_words_come_first_as_why(signed_in, cast, ada):
    Decision.objects.create(
        athlete=ada, on=TODAY, main_style="sumo", reasons="file note", words_for_athlete="You stay wide.",
        decided_by=cast.cato,
    )  # fmt: skip
    page = page_of(signed_in("ada"), ada)
    assert "<strong>Why sumo:</strong> You stay wide." in page and "file note" not in page


def test_without_words_and_without_a_named_link_the_sentence_is_left_out(signed_in, ada):
    assert "Why" not in page_of(signed_in("ada"), ada).split("Made</button>")[1]


def test_a_running_trial_shows_its_course_and_the_request_with_the_stop_rule(signed_in, ada):
    trial = Trial.objects.create(
        athlete=ada, new_style="sumo", old_style="conventional", started_on=TODAY - timedelta(weeks=9), weeks=12,
        decide_on=TODAY + timedelta(weeks=3), no_baseline_reason="first lifts", pulls_a_week=1.0,
    )  # fmt: skip
    ada.sets.update(in_new_style="yes", trial=trial)
    page = page_of(signed_in("ada"), ada)
    assert "week 10 of 12" in page
    assert "Cato asks" in page and "Hip, groin, glute or back pain:" in page


def test_nothing_planned_names_the_next_day(signed_in, ada):
    PlanItem.objects.update(day=TODAY + timedelta(days=2))
    page = page_of(signed_in("ada"), ada)
    assert "Nothing planned today" in page and "Log something else" in page
    assert f"Next: {TODAY + timedelta(days=2):%A}, Sumo deadlift 110 kg × 3" in page


def test_pain_ends_the_plan_with_the_caution_and_staff_are_not_told(signed_in, ada):
    LiftSet.objects.create(
        athlete=ada, day=TODAY, style="sumo", load_typed="110", load_unit="kg", load_kg=110.0, reps_made=0,
        reps_tried=3, result="stopped-pain",
    )  # fmt: skip
    own = page_of(signed_in("ada"), ada)
    assert "Stop here. Tell Cato; see a licensed professional." in own and "Made</button>" not in own
    staff = page_of(signed_in("stan"), ada)
    assert "pain" not in staff.lower() and "Made</button>" not in staff


def test_after_a_miss_the_leg_the_places_and_the_lighter_set(signed_in, ada):
    row = LiftSet.objects.create(
        athlete=ada, day=TODAY, style="sumo", load_typed="150", load_unit="kg", load_kg=150.0, reps_made=0,
        result="missed", miss_position="below-knee",
    )  # fmt: skip
    page = signed_in("ada").get(f"/athletes/{ada.pk}/today/missed/{row.pk}/").content.decode()
    assert "Miss saved. Where did the bar stop?" in page and "Next set 135 kg" in page
    pressed = page.split('aria-pressed="true">')[1].split("<")[0]
    assert pressed == "Below the knee" and page.count('class="stop on"') == 1
    LiftSet.objects.create(
        athlete=ada, day=TODAY, style="sumo", load_typed="135", load_unit="kg", load_kg=135.0, reps_made=0,
        result="missed",
    )  # fmt: skip
    page = signed_in("ada").get(f"/athletes/{ada.pk}/today/missed/{row.pk}/").content.decode()
    assert "Two misses: heavy work done" in page and "Next set" not in page


def test_ownership_and_wrong_verb(signed_in, cast, ada):
    address = f"/athletes/{ada.pk}/"
    assert signed_in(None).get(address).status_code == 302
    assert signed_in("olga").get(address).status_code == 404
    assert signed_in("ada").post(address).status_code == 405
    row = ada.sets.first()
    assert signed_in("ada").get(f"{address}today/missed/{row.pk}/").status_code == 404, "a set of another day"


def test_body_mass_and_harsh_words_never_stand_there(signed_in, ada):
    ada.days.create(day=TODAY, mass_kg=67.4, mass_typed="67.4", mass_unit="kg")
    for who in ("stan", "cato", "ada"):
        page = page_of(signed_in(who), ada)
        assert "67.4" not in page and "148.6" not in page and "fail" not in page.lower()
