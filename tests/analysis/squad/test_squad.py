"""The squad page: works, ownership, privacy, wrong verb, order and filters."""

from datetime import timedelta

import pytest
from django.utils import timezone

from analysis.store.profiles import refresh, stored_profiles, today_in
from athletes.models import Athlete, LiftSet, TrainingDay

URL = "/squad/table/"


def log(athlete, days_ago=1, **more):
    day = timezone.localdate() - timedelta(days=days_ago)
    base = {
        "load_typed": "140",
        "load_unit": "kg",
        "load_kg": 140,
        "style": "conventional",
        "rir_low": 1,
        "rir_high": 1,
    }
    return LiftSet.objects.create(athlete=athlete, day=day, **{**base, **more})


@pytest.fixture
def logged(cast):
    ada = cast.athletes["ada"]
    for days_ago in (40, 20, 3):
        log(ada, days_ago)
    log(ada, 2, load_kg=150, reps_made=0, result="missed", miss_position="at-knee", gave_way="hips-shot-up")
    TrainingDay.objects.create(
        athlete=ada, day=timezone.localdate(), soreness=7, soreness_site="lower-back", mass_kg=71.3
    )
    return ada


def test_works_and_names_the_reason(signed_in, logged):
    page = signed_in("cato").get(URL).content.decode()
    assert "Ada Fell" in page and "at the knee" in page and "Soreness 7 of 10" in page


def test_ownership_only_the_own_club_is_listed(signed_in, logged):
    assert "Ada Fell" not in signed_in("olga").get(URL).content.decode()
    assert signed_in("ada").get(URL).status_code == 404
    assert signed_in(None).get(URL).status_code == 302


def test_staff_and_another_squads_coach_see_no_soreness_and_nobody_sees_body_mass(signed_in, logged):
    for name in ("stan", "bea"):
        assert "Soreness" not in signed_in(name).get(URL).content.decode().replace("soreness", "")
    for name in ("stan", "cato", "ona"):
        assert "71.3" not in signed_in(name).get(URL).content.decode()


def test_wrong_verb_is_refused(signed_in, cast):
    assert signed_in("cato").post(URL).status_code == 405


def test_filter_by_name_reason_and_squad(signed_in, logged):
    coach = signed_in("cato")
    assert "Ada Fell" not in coach.get(URL, {"who": "petra"}).content.decode()
    named = coach.get(URL, {"reason": "heavy-miss"}).content.decode()
    assert "Ada Fell" in named and "Petra Moss" not in named
    own = coach.get(URL, {"coach": "me"}).content.decode()
    assert "Ada Fell" in own and "Petra Moss" not in own


def test_order_by_name_and_by_urgency(signed_in, logged):
    coach = signed_in("cato")
    by_name = coach.get(URL, {"order": "name"}).content.decode()
    assert by_name.index("Ada Fell") < by_name.index("Ivo Reed") < by_name.index("Petra Moss")
    first = coach.get(URL).content.decode()
    assert first.index("Ada Fell") < first.index("Petra Moss")


def test_nonsense_in_the_filter_shows_everybody_and_a_message(signed_in, logged):
    page = signed_in("cato").get(URL, {"standing": "giant", "coach": "999999"})
    assert page.status_code == 200 and "Ada Fell" in page.content.decode()


def test_at_most_twelve_queries_from_stored_profiles(signed_in, logged, django_assert_max_num_queries):
    coach = signed_in("cato")
    coach.get(URL)
    with django_assert_max_num_queries(12):
        coach.get(URL)


def test_a_large_squad_comes_in_pages_and_whole_to_print(signed_in, cast):
    Athlete.objects.bulk_create(
        Athlete(club=cast.quarry, name=f"Lifter {i:03d}", name_key="", sex="f", standing="trained") for i in range(120)
    )
    rows = Athlete.objects.filter(club=cast.quarry)
    day = today_in(cast.quarry)
    refresh(stored_profiles(rows, "squad", day, lambda _: True), "squad", day, seconds=60)
    coach = signed_in("cato")
    first = coach.get(URL, {"order": "name"}).content.decode()
    assert "1 to 100 of 123" in first and "Lifter 119" not in first and "order=name&amp;page=2" in first
    assert "Lifter 119" in coach.get(URL, {"order": "name", "page": "2"}).content.decode()
    whole = coach.get(URL, {"order": "name", "page": "all"}).content.decode()
    assert "Lifter 000" in whole and "Lifter 119" in whole
    assert coach.get(URL, {"page": "\u2603"}).status_code == 200
