"""An athlete's own meets: works, ownership, only readers, wrong verb."""

import pytest

from tests.analysis.meets.meeting import a_meet, attempt, enter, log_pulls


@pytest.fixture
def ada(cast):
    return cast.athletes["ada"]


def url(athlete):
    return f"/athletes/{athlete.pk}/meets/"


def page_of(client, athlete):
    return client.get(url(athlete)).content.decode()


def test_without_a_meet_the_page_says_how_one_comes(signed_in, ada):
    assert "The coach enters you" in page_of(signed_in("ada"), ada)
    assert "Enter the lifter" in page_of(signed_in("cato"), ada)


def test_the_plan_is_told_in_chances_and_the_coachs_choice_comes_first(signed_in, cast, ada):
    log_pulls(ada)
    entry = enter(a_meet(cast.quarry), ada)
    assert "No attempts are chosen yet" in page_of(signed_in("ada"), ada)
    for number, kg in ((1, 130), (2, 137.5), (3, 145)):
        attempt(entry, number, kg, handed_in=False)
    page = page_of(signed_in("ada"), ada)
    assert "The coach plans" in page and "145 kg" in page and "in 10" in page and "not a promise" in page


def test_past_results_are_told_without_a_verdict(signed_in, cast, ada):
    entry = enter(a_meet(cast.quarry, days=-40, name="Old hall"), ada)
    attempt(entry, 1, 130, "made"), attempt(entry, 2, 137.5, "missed", reason="at-knee")
    page = page_of(signed_in("ada"), ada)
    assert "Old hall" in page and "137.5 missed" in page and "at the knee" in page
    assert "fail" not in page.lower()


def test_the_next_meet_stands_first_and_those_behind_last(signed_in, cast, ada):
    for days, name in ((90, "Far"), (10, "Near"), (-10, "Gone")):
        enter(a_meet(cast.quarry, days=days, name=name), ada)
    page = page_of(signed_in("cato"), ada)
    assert page.index("Near") < page.index("Far") < page.index("Gone")


def test_strangers_do_not_see_it_and_nobody_writes(signed_in, cast, ada):
    for name in ("olga", "hugo"):
        assert signed_in(name).get(url(ada)).status_code == 404
    assert signed_in("stan").get(url(ada)).status_code == 200
    assert signed_in("cato").post(url(ada)).status_code == 405
