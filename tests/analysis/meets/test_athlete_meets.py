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
    assert "Your coach enters you" in page_of(signed_in("ada"), ada)
    assert "Enter a meet" in page_of(signed_in("cato"), ada) and "No meet ahead" in page_of(signed_in("cato"), ada)


def test_the_plan_is_told_in_chances_and_the_coachs_choice_comes_first(signed_in, cast, ada):
    log_pulls(ada)
    entry = enter(a_meet(cast.quarry), ada)
    assert "Hall open in 10 days: no attempts yet</h1>" in page_of(signed_in("cato"), ada)
    for number, kg in ((1, 130), (2, 137.5), (3, 145)):
        attempt(entry, number, kg, handed_in=False)
    page = page_of(signed_in("ada"), ada)
    assert (
        "attempts set</h1>" in page
        and "The coach plans" in page
        and "Opens at 130 kg" in page
        and "145 kg" in page
        and "in 10" in page
        and "not a promise" in page
    )


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


@pytest.mark.parametrize(
    "days,name,words",
    [
        (1, "Hall open", "Hall open in 1 day: log too thin"),
        (0, "Hall open", "Hall open is today"),
        (9, "The long name of a meet far away", "The long name of … in 9 days: log too thin"),
    ],
)
def test_the_heading_is_the_next_meet_and_what_it_lacks(signed_in, cast, ada, days, name, words):
    enter(a_meet(cast.quarry, days=days, name=name), ada)
    page = page_of(signed_in("cato"), ada)
    assert f'<h1 class="answer">{words}</h1>' in page and page.count('class="button do"') == 1
    assert ("Open the board" in page) is (days == 0)
    assert "Open the board" not in page_of(signed_in("ada"), ada)


def test_the_clubs_page_is_headed_by_its_next_meet(signed_in, cast, ada):
    coach = signed_in("cato")
    assert '<h1 class="answer">No meet ahead</h1>' in coach.get("/meets/").content.decode()
    enter(a_meet(cast.quarry, days=9), ada)
    page = coach.get("/meets/").content.decode()
    assert '<h1 class="answer">Hall open in 9 days</h1>' in page and "1 of ours entered" in page
