"""Weak-link page: works with doubt and rows, ownership, health stays private, wrong verb."""

import json
import re
from datetime import timedelta

import pytest
from django.utils import timezone

from athletes.models import HealthNote, LiftSet, Measurement, MeasuringVisit

TODAY = timezone.localdate()


def url(athlete):
    return f"/athletes/{athlete.pk}/weak-link/"


@pytest.fixture
def ada(cast):
    ada = cast.athletes["ada"]
    visit = MeasuringVisit.objects.create(athlete=ada, day=TODAY - timedelta(days=20))
    for key, value in (("stature", 168), ("sitting_height", 88), ("arm_span", 170), ("mass", 67.4)):
        Measurement.objects.create(visit=visit, key=key, typed=str(value), unit="cm", value=value)
    base = {
        "athlete": ada, "style": "conventional", "load_unit": "kg", "bar_kind": "stiff", "grip": "mixed",
        "shape": "flat",
    }  # fmt: skip
    for i in range(10):
        LiftSet.objects.create(
            **base, day=TODAY - timedelta(days=7 * i + 3), load_typed="132.5", load_kg=132.5, reps_made=3, reps_tried=3,
            rir_low=2, rir_high=2,
        )  # fmt: skip
    for i in range(4):
        LiftSet.objects.create(
            **base, day=TODAY - timedelta(days=14 * i + 10), load_typed="150", load_kg=150, reps_made=0, reps_tried=1,
            result="missed", miss_position="floor", gave_way="never-moved",
        )  # fmt: skip
    return ada


def test_works_with_chances_ranges_misses_and_the_honest_sentence(signed_in, ada):
    page = signed_in("cato").get(url(ada)).content.decode()
    for words in ("in 10", "Misses by position", "rows/?key=", "published study", "ladder style-", "ladder limits"):
        assert words in page
    assert "fail" not in page.split("<main")[1].lower()


def test_ownership(signed_in, ada):
    assert signed_in("ada").get(url(ada)).status_code == 200
    assert signed_in("olga").get(url(ada)).status_code == 404


def test_the_test_is_offered_to_the_coach_only(signed_in, ada):
    coach = signed_in("cato").get(url(ada)).content.decode()
    assert "Offered to the coach" in coach and "What that test can say" in coach
    for name in ("ada", "stan", "bea"):
        page = signed_in(name).get(url(ada)).content.decode()
        assert "ffered to the coach" not in page and ">Log a set</a>" in page


def test_with_pain_noted_no_test_and_staff_do_not_learn_of_it(signed_in, ada):
    HealthNote.objects.create(athlete=ada, kind="pain", site="lower-back", noted_on=TODAY)
    coach = signed_in("cato").get(url(ada)).content.decode().split("<main")[1].split("<footer")[0]
    assert "No testing for now" in coach and "Talk to Ada" in coach and "Expected between" not in coach
    staff = signed_in("stan").get(url(ada)).content.decode().split("<main")[1].split("<footer")[0]
    assert "pain" not in staff.lower().replace("pain stops", "")


def test_a_beginner_gets_no_weak_link_sentence(signed_in, ada):
    ada.standing = "beginner"
    ada.save()
    page = signed_in("cato").get(url(ada)).content.decode()
    assert '<h1 class="answer">Learn the lift first</h1>' in page and "Chances" not in page


def test_nothing_logged_says_what_to_log(signed_in, cast):
    page = signed_in("cato").get(url(cast.athletes["petra"])).content.decode()
    assert "No miss yet: nothing to name" in page and "that counts half" in page and "more misses" not in page


def words_and_drawings(page: str) -> tuple[str, list[object]]:
    """A page's text and its drawings as data: PostgreSQL keeps JSON, not the order of its names."""
    data = re.compile(r'(<script[^>]*type="application/json">)(.*?)</script>', re.DOTALL)
    return data.sub(r"\1</script>", page), [json.loads(body) for _, body in data.findall(page)]


def test_a_second_look_is_read_from_the_store(signed_in, ada, django_assert_max_num_queries):
    coach = signed_in("cato")
    first = words_and_drawings(coach.get(url(ada)).content.decode())
    with django_assert_max_num_queries(14):
        second = words_and_drawings(coach.get(url(ada)).content.decode())
    assert second == first and len(first[1]) >= 1


def test_wrong_verb(signed_in, ada):
    assert signed_in("cato").post(url(ada)).status_code == 405


def test_links_to_rows_stay_short_however_long_the_log(signed_in, ada):
    for i in range(60):
        LiftSet.objects.create(
            athlete=ada, style="conventional", load_unit="kg", bar_kind="stiff", grip="mixed", rir_low=2, rir_high=2,
            day=TODAY - timedelta(days=90 + i), load_typed="130", load_kg=130, reps_made=3, reps_tried=3,
        )  # fmt: skip
    page = signed_in("cato").get(url(ada)).content.decode()
    assert "the latest 24 of 70 rows" in page
    assert max(link.count("key=") for link in re.findall(r'href="[^"]*"', page)) == 24
