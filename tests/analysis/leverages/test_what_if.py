"""The what-if panel: a changed setup beside the usual one, or a clear message."""

import pytest

from athletes.models import FirstMeeting
from tests.analysis.measured import measure


@pytest.fixture
def ask(signed_in, cast):
    measure(cast.athletes["ada"])
    client = signed_in("cato")

    def asked(style="sumo", **fields):
        answer = client.get(f"/athletes/{cast.athletes['ada'].pk}/leverages/what-if/", {"style": style} | fields)
        assert answer.status_code == 200
        return answer.content.decode().replace("\u00a0", " ")

    return asked


def test_a_narrower_stance_is_drawn_beside_the_usual_one(ask):
    text = ask(stance="55")
    assert "Your change against sumo, at lift-off:" in text
    assert "longer pull" in text
    assert text.count('class="figure-svg posture') == 6


def test_a_stranger_finds_no_such_athlete(signed_in, cast):
    assert signed_in("olga").get(f"/athletes/{cast.athletes['ada'].pk}/leverages/what-if/").status_code == 404


def test_it_reads_and_never_writes(signed_in, cast):
    assert signed_in("cato").post(f"/athletes/{cast.athletes['ada'].pk}/leverages/what-if/").status_code == 405


def test_the_part_alone_answers_a_script(ask):
    text = ask(stance="55", part="1")
    assert "<html" not in text
    assert "Your change against sumo" in text


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"start": "deficit", "start_height": "5"}, "longer pull"),
        ({"start": "block", "start_height": "4 in"}, "shorter pull"),
        ({"sole": "3"}, "longer pull"),
        ({"arm": "+6"}, "shorter pull"),
        ({"arm": "-6 %"}, "longer pull"),
        ({"hands": "75"}, "longer pull"),
    ],
)
def test_each_change_does_what_it_does_in_life(ask, fields, words):
    """Directions are common practice: a deficit, thicker soles, short arms and a wide grip lengthen the pull."""
    assert words in ask(**fields)


def test_a_bar_that_bends_helps_the_floor_and_leaves_the_height_of_lockout(ask):
    text = ask(style="conventional", bar="flexible")
    assert "About the same: length of the pull" in text


def test_nothing_changed_says_so_and_tells_no_difference(ask):
    text = ask()
    assert "Nothing was changed yet" in text and "against sumo" not in text
    assert "Nothing was changed yet" not in ask(arm="3")


@pytest.mark.parametrize(
    ("fields", "message"),
    [
        ({"stance": "wide"}, "not a number that can be read"),
        ({"stance": "-5"}, "not a number that can be read"),
        ({"stance": "70 stone"}, "the unit “stone” is not cm or in"),
        ({"stance": "140"}, "wider than"),
        ({"stance": "900"}, "is more than 200 cm"),
        ({"turnout": "120"}, "is outside 0 to 85"),
        ({"hands": "abc"}, "not a number that can be read"),
        ({"sole": "30"}, "is more than 10 cm"),
        ({"arm": "40"}, "is outside -15 to +15 %"),
        ({"arm": "long"}, "not a number that can be read"),
        ({"start": "block"}, "How high is the block?"),
        ({"start_height": "5"}, "Choose block or deficit"),
        ({"start": "block", "start_height": "59"}, "ockout"),
        ({"style": "frog"}, "Select a valid choice"),
        ({"bar": "rubber"}, "Select a valid choice"),
    ],
)
def test_what_cannot_be_gets_a_message_and_keeps_what_was_typed(ask, fields, message):
    text = ask(**({"style": "conventional"} | fields))
    assert message in text
    for name, typed in fields.items():
        assert name in ("style", "bar", "start") or f'value="{typed}"' in text


def test_inches_behind_a_number_count_before_the_readers_unit(ask):
    assert ask(stance="27.5 in").split("figure-svg")[0] == ask(stance="27.5 in").split("figure-svg")[0]
    narrow, wide = ask(stance="20 in", part="1"), ask(stance="50.8 cm", part="1")
    assert narrow == wide


def test_a_comma_is_a_decimal_point(ask):
    assert ask(stance="55,5", part="1") == ask(stance="55.5", part="1")


def test_the_comfortable_stance_bounds_what_may_be_asked(ask, cast):
    FirstMeeting.objects.create(athlete=cast.athletes["ada"], stance_typed="60", stance_cm=60.0)
    assert "65 cm is wider than 60 cm, the widest comfortable stance" in ask(stance="65")


def test_rounded_is_no_choice_for_a_beginner(ask, cast):
    assert 'value="rounded"' in ask()
    cast.athletes["ada"].standing = "beginner"
    cast.athletes["ada"].save()
    assert 'value="rounded"' not in ask()
    assert "Select a valid choice" in ask(style="rounded")


def test_without_a_stature_it_says_what_to_measure(signed_in, cast):
    answer = signed_in("cato").get(f"/athletes/{cast.athletes['petra'].pk}/leverages/what-if/")
    assert "no stature is measured" in answer.content.decode()
