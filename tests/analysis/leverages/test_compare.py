"""One athlete beside another body."""

import re

import pytest

from tests.analysis.measured import measure


@pytest.fixture
def ada(cast):
    measure(cast.athletes["ada"])
    return cast.athletes["ada"]


def address(athlete):
    return f"/athletes/{athlete.pk}/leverages/beside/"


def text_of(answer):
    return answer.content.decode().replace("\u00a0", " ")


def test_an_average_body_of_the_same_stature_stands_beside_the_athlete(signed_in, ada):
    text = text_of(signed_in("cato").get(address(ada)))
    assert "<h3>Average build</h3>" in text
    assert "<h3>Ada Fell</h3>" in text


def test_long_arms_show_against_the_average_body(signed_in, cast):
    """Direction: common practice; a bar that hangs 6 cm lower makes a shorter pull."""
    measure(cast.athletes["ada"], stature=166.0, standing_grip_height=66.0)
    text = text_of(signed_in("cato").get(address(cast.athletes["ada"])))
    assert re.search(r"Ada Fell against average build, at lift-off: .*shorter pull", text)


def test_another_athlete_of_the_club_may_stand_beside(signed_in, ada, cast):
    measure(cast.athletes["petra"], stature=178.0)
    query = {"beside": cast.athletes["petra"].pk, "style": "sumo"}
    text = text_of(signed_in("cato").get(address(ada), query))
    assert "Ada Fell against Petra Moss" in text


def test_an_athlete_of_another_club_is_no_choice(signed_in, ada, cast):
    measure(cast.athletes["hugo"], stature=180.0)
    text = text_of(signed_in("cato").get(address(ada), {"beside": cast.athletes["hugo"].pk, "style": "sumo"}))
    assert "Select a valid choice" in text
    assert "Hugo Vale" not in text


def test_a_stranger_finds_no_such_athlete(signed_in, ada):
    assert signed_in("olga").get(address(ada)).status_code == 404


def test_it_reads_and_never_writes(signed_in, ada):
    assert signed_in("cato").post(address(ada)).status_code == 405


def test_moments_are_left_out_unless_both_masses_may_be_seen(signed_in, ada, cast):
    measure(cast.athletes["petra"], stature=178.0, mass=90.0)
    query = {"beside": cast.athletes["petra"].pk, "style": "sumo"}
    assert "N m" in text_of(signed_in("ona").get(address(ada), query))
    for name in ("cato", "stan"):
        text = text_of(signed_in(name).get(address(ada), query))
        assert "N m" not in text
        assert "Work for the back" not in text


def test_the_other_without_a_stature_gets_a_message(signed_in, ada, cast):
    text = text_of(signed_in("cato").get(address(ada), {"beside": cast.athletes["petra"].pk, "style": "sumo"}))
    assert "Petra Moss has no stature measured yet" in text


def test_an_athlete_may_stand_beside_the_average_body_only(signed_in, ada, cast):
    measure(cast.athletes["petra"], stature=178.0)
    text = text_of(signed_in("ada").get(address(ada)))
    assert "Petra Moss" not in text
    assert "Average build" in text


@pytest.mark.parametrize(("arm", "words"), [("+6", "shorter pull"), ("-6 %", "longer pull")])
def test_the_same_body_with_other_arms(signed_in, ada, arm, words):
    """Directions are common practice: long arms shorten the pull."""
    query = {"beside": "same", "style": "conventional", "arm": arm}
    text = text_of(signed_in("cato").get(address(ada), query))
    assert words in text and "its own uncertainty is left out" in text


@pytest.mark.parametrize(
    ("fields", "message"),
    [
        ({"beside": "same"}, "How much longer or shorter?"),
        ({"beside": "average", "arm": "5"}, "choose it, or empty the arms"),
        ({"beside": "same", "arm": "40"}, "is outside -15 to +15 %"),
        ({"beside": "same", "arm": "long"}, "not a number that can be read"),
    ],
)
def test_other_arms_that_cannot_be_get_a_message(signed_in, ada, fields, message):
    text = text_of(signed_in("cato").get(address(ada), {"style": "sumo"} | fields))
    assert message in text
