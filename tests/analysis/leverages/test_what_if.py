"""A moved stance, turned toes, other hands: the second figure changed, or a clear message."""

import re

import pytest

from athletes.models import FirstMeeting
from tests.analysis.measured import measure


@pytest.fixture
def ask(signed_in, cast):
    measure(cast.athletes["ada"])
    client = signed_in("cato")

    def asked(style="sumo", **fields):
        answer = client.get(f"/athletes/{cast.athletes['ada'].pk}/leverages/", {"style": style} | fields)
        assert answer.status_code == 200
        return answer.content.decode().replace("\u00a0", " ")

    return asked


def pull(text: str) -> tuple[int, int]:
    """Length of the pull of the first and of the second figure, cm."""
    first, second = re.search(r"Pull, cm</span><strong>(\d+) → (\d+)", text).groups()
    return int(first), int(second)


def test_a_narrower_stance_lengthens_the_pull_and_says_where_it_stands(ask):
    text = ask(stance="55")
    assert re.search(r'<h1 class="answer">Sumo at 55 cm: ', text)
    assert pull(text)[1] > pull(ask())[1]
    assert "As moved: stance 55 cm" in text
    assert ">Sumo, moved</h2>" in text


def test_a_style_can_be_held_against_itself(ask):
    text = ask(style="conventional", hands="75")
    assert pull(text)[1] > pull(text)[0]


def test_the_old_address_leads_to_the_place_with_what_was_asked(signed_in, cast):
    ada = cast.athletes["ada"].pk
    answer = signed_in("cato").get(f"/athletes/{ada}/leverages/what-if/?style=sumo&stance=55")
    assert (answer.status_code, answer["Location"]) == (301, f"/athletes/{ada}/leverages/?style=sumo&stance=55")
    assert signed_in("olga").get(f"/athletes/{ada}/leverages/what-if/").status_code == 404
    assert signed_in("cato").post(f"/athletes/{ada}/leverages/what-if/").status_code == 405


def test_the_part_alone_answers_a_script(ask):
    text = ask(stance="55", part="1")
    assert "<html" not in text and "<details" not in text
    assert "Sumo at 55 cm" in text


@pytest.mark.parametrize(
    ("fields", "longer"),
    [
        ({"start": "deficit", "start_height": "5"}, True),
        ({"start": "block", "start_height": "4 in"}, False),
        ({"sole": "3"}, True),
        ({"hands": "75"}, True),
    ],
)
def test_each_change_does_what_it_does_in_life(ask, fields, longer):
    """Directions are common practice: a deficit, thicker soles and a wide grip lengthen the pull."""
    assert (pull(ask(**fields))[1] > pull(ask())[1]) is longer


def test_a_bar_that_bends_leaves_the_height_of_lockout(ask):
    assert pull(ask(bar="flexible"))[1] == pull(ask())[1]


def test_handles_speak_name_value_unit_and_stop_where_the_lifter_stops(ask, cast):
    FirstMeeting.objects.create(athlete=cast.athletes["ada"], stance_typed="60", stance_cm=60.0)
    text = ask()
    found = re.search(
        r'role="slider" tabindex="0" aria-label="stance" aria-valuemin="20" aria-valuemax="60" aria-valuenow="60" '
        r'aria-valuetext="stance 60 cm"',
        text,
    )
    assert found
    assert text.count('role="slider"') == 3 and text.count("data-handle=") == 6


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
    inches, cm = ask(stance="20 in", part="1"), ask(stance="50.8 cm", part="1")
    assert inches.split("<svg")[1] == cm.split("<svg")[1]
    assert "at 51 cm" in inches


def test_a_comma_is_a_decimal_point(ask):
    assert ask(stance="55,5", part="1").split("<svg")[1:4] == ask(stance="55.5", part="1").split("<svg")[1:4]


def test_the_comfortable_stance_bounds_what_may_be_asked(ask, cast):
    FirstMeeting.objects.create(athlete=cast.athletes["ada"], stance_typed="60", stance_cm=60.0)
    assert "65 cm is wider than 60 cm, the widest comfortable stance" in ask(stance="65")


def test_rounded_is_no_choice_for_a_beginner(ask, cast):
    assert 'value="rounded"' in ask()
    cast.athletes["ada"].standing = "beginner"
    cast.athletes["ada"].save()
    assert 'value="rounded"' not in ask()
    assert "Select a valid choice" in ask(style="rounded")
