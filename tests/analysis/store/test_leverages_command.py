"""`manage.py leverages`: the JSON that scripts read, the short table, and one line for a wrong argument."""

import json
import math
import os
import subprocess
import sys
from io import StringIO
from pathlib import Path

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError

from analysis.core.records.pulls import QUANTITY_KEYS

MAN = ("--sex", "m", "--stature", "178", "--mass", "85")
ROOT = Path(__file__).parents[3]


def _run(*arguments):
    out = StringIO()
    call_command("leverages", *arguments, stdout=out)
    return out.getvalue()


def _json(*arguments):
    return json.loads(_run(*arguments, "--json"))


def test_json_has_every_style_and_key():
    found = _json(*MAN)
    assert found["load_kg"] == 200
    assert list(found["styles"]) == ["conventional", "sumo", "wide-sumo", "rounded"]
    for style in found["styles"].values():
        assert set(style["lift_off"]) == set(QUANTITY_KEYS)
        assert len(style["pull"]) == 61
        assert all(set(row) == set(QUANTITY_KEYS) for row in style["pull"])
        for estimate in style["lift_off"].values():
            assert estimate["low"] <= estimate["value"] <= estimate["high"]
        assert style["lockout_height_m"] - style["settings"]["start_height_m"] == pytest.approx(
            style["range_of_motion_m"]
        )


def test_lift_off_is_the_first_row_of_the_pull():
    style = _json(*MAN)["styles"]["sumo"]
    for key in QUANTITY_KEYS:
        assert style["pull"][0][key] == pytest.approx(style["lift_off"][key]["value"], rel=1e-6, abs=1e-6)


def test_one_style_changed_in_stance_turnout_and_load():
    found = _json(*MAN, "--style", "sumo", "--stance", "0.8", "--turnout", "40", "--load", "150")
    assert list(found["styles"]) == ["sumo"]
    settings = found["styles"]["sumo"]["settings"]
    assert settings["stance_m"] == 0.8
    assert settings["turnout_deg"] == pytest.approx(40)
    heavier = _json(*MAN, "--style", "sumo", "--stance", "0.8", "--turnout", "40", "--load", "250")
    moments = [one["styles"]["sumo"]["lift_off"]["hip_moment_nm"]["value"] for one in (found, heavier)]
    assert moments[1] > 1.4 * moments[0]


def test_a_measurement_in_cm_is_used():
    plain, long = (
        _json(*MAN),
        _json(*MAN, "--measurement", "standing_grip_height=72", "--measurement", "foot_length=27"),
    )
    assert long["body"]["links_m"]["arm"]["value"] > plain["body"]["links_m"]["arm"]["value"] + 0.01
    assert long["body"]["measurements"]["foot_length"]["origin"] == "measured"
    assert math.isclose(long["body"]["measurements"]["foot_length"]["value"], 0.27, abs_tol=0.003)


def test_the_same_request_gives_the_same_numbers():
    assert _run(*MAN, "--json") == _run(*MAN, "--json")


def test_without_json_a_short_table():
    table = _run(*MAN)
    assert "conventional" in table and "wide-sumo" in table and "hip moment" in table
    assert "not medical advice" in table
    assert len(table.splitlines()) < 20


def test_every_default_style_fits_a_small_body_because_stances_go_by_the_leg():
    found = _json("--sex", "f", "--stature", "145", "--mass", "45")
    assert not any("error" in style for style in found["styles"].values())
    assert 0.6 < found["styles"]["wide-sumo"]["settings"]["stance_m"] < 0.8
    assert found["styles"]["conventional"]["range_of_motion_m"] > 0.3


WRONG = [
    ((*MAN, "--stance", "nan"), "--stance"),
    ((*MAN, "--stance", "-1"), "--stance"),
    ((*MAN, "--style", "sumo", "--stance", "1.5"), "--stance"),
    ((*MAN, "--style", "sumo", "--stance", "1.9"), "--stance"),
    ((*MAN, "--turnout", "120"), "--turnout"),
    ((*MAN, "--turnout", "ten"), "--turnout"),
    ((*MAN, "--style", "frog"), "--style"),
    ((*MAN, "--load", "-5"), "--load"),
    ((*MAN, "--load", "inf"), "--load"),
    ((*MAN, "--load", "5000"), "--load"),
    ((*MAN, "--draws", "-1"), "--draws"),
    ((*MAN, "--start", "1.1"), "--start"),
    ((*MAN, "--bar", "rubber"), "--bar"),
    ((*MAN, "--measurement", "femur=45"), "--measurement femur"),
    ((*MAN, "--measurement", "arm_span"), "--measurement"),
    ((*MAN, "--measurement", "arm_span=1,80"), "--measurement"),
    ((*MAN, "--measurement", "arm_span=1.8"), "--measurement arm_span"),
    ((*MAN, "--measurement", "arm_span=nan"), "--measurement"),
    ((*MAN, "--measurement", "stature=180"), "--measurement"),
    ((*MAN, "--measurement", "trochanterion_height=140", "--measurement", "acromial_height=120"), "trochanterion"),
    (("--sex", "m", "--stature", "1.78"), "--stature"),
    (("--sex", "m", "--stature", "-178"), "--stature"),
    (("--sex", "m", "--stature", "5'11"), "--stature"),
    (("--sex", "m", "--stature", "178", "--mass", "0"), "--mass"),
    (("--sex", "x", "--stature", "178"), "--sex"),
    (("--sex", "m"), "--stature"),
    ((*MAN, "--colour", "red"), "--colour"),
]


@pytest.mark.parametrize(("arguments", "named"), WRONG, ids=[" ".join(row[0][-2:]) for row in WRONG])
def test_a_wrong_argument_is_named_in_one_line(arguments, named):
    with pytest.raises(CommandError) as refused:
        _run(*arguments)
    assert refused.value.returncode == 2
    assert named in str(refused.value)
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize("arguments", [WRONG[2][0], WRONG[13][0], WRONG[20][0], WRONG[26][0]])
def test_from_a_shell_it_ends_with_exit_code_2_and_one_line(arguments):
    done = subprocess.run(
        [sys.executable, "manage.py", "leverages", *arguments],
        cwd=ROOT, capture_output=True, text=True, timeout=120, check=False,
        env={**os.environ, "DJANGO_DEBUG": "1"},
    )  # fmt: skip
    assert done.returncode == 2
    assert done.stdout == ""
    assert len(done.stderr.strip().splitlines()) == 1
