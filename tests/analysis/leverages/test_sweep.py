"""The stance sweep of one athlete."""

import json
import re

import pytest

from athletes.models import FirstMeeting
from tests.analysis.measured import measure


@pytest.fixture
def ada(cast):
    measure(cast.athletes["ada"])
    return cast.athletes["ada"]


def address(athlete):
    return f"/athletes/{athlete.pk}/leverages/stances/"


def figure(answer, key):
    found = re.search(rf'<script id="plot-{key}" type="application/json">(.*?)</script>', answer.content.decode())
    return json.loads(found.group(1))


def test_a_wider_stance_brings_hips_nearer_and_shortens_the_pull(signed_in, ada):
    answer = signed_in("cato").get(address(ada))
    for key in ("sweep-hip_bar_distance_m", "sweep-range_of_motion_m"):
        values = figure(answer, key)["data"][2]["y"]
        assert values[-1] < values[0]


def test_the_band_lies_about_the_line(signed_in, ada):
    high, low, line = figure(signed_in("cato").get(address(ada)), "sweep-knee_flexion_deg")["data"][:3]
    assert all(a >= c >= b for a, b, c in zip(high["y"], low["y"], line["y"], strict=True))


def test_a_stranger_finds_no_such_athlete(signed_in, ada):
    assert signed_in("olga").get(address(ada)).status_code == 404


def test_it_reads_and_never_writes(signed_in, ada):
    assert signed_in("cato").post(address(ada)).status_code == 405


def test_the_first_meeting_is_a_line_in_the_figure_and_a_sentence(signed_in, ada):
    FirstMeeting.objects.create(athlete=ada, stance_typed="70", stance_cm=70.0)
    answer = signed_in("cato").get(address(ada))
    assert "the widest comfortable stance tried with a dowel (dotted line" in answer.content.decode()
    assert figure(answer, "sweep-range_of_motion_m")["layout"]["shapes"][0]["x0"] == pytest.approx(70.0)


def test_no_best_stance_is_named(signed_in, ada):
    text = signed_in("cato").get(address(ada)).content.decode().lower()
    assert "best stance" not in text
    assert "a trial decides" in text


def test_without_a_stature_it_says_what_to_measure(signed_in, cast):
    assert "Four lengths with a tape" in signed_in("cato").get(address(cast.athletes["petra"])).content.decode()
