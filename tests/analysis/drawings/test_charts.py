"""Small charts and the two figures: numbers stand where they belong, letters do not meet, one scale and one floor."""

import re

import pytest

from analysis.core.leverages.report import leverage_report
from analysis.core.records.bodies import BodyInput
from analysis.core.records.pulls import SetupInput
from analysis.drawings.charts import (
    LIMIT_X,
    Asked,
    Course,
    LinkRow,
    Week,
    at_share,
    course_chart,
    demands_chart,
    weeks_chart,
)
from analysis.drawings.pair import DESK, PHONE, Figure, pair


def cm(metres: float) -> str:
    return f"{100 * metres:.0f} cm"


@pytest.fixture(scope="module")
def both():
    body = BodyInput("m", {"stature": 1.78, "sitting_height": 0.93, "arm_span": 1.84, "standing_grip_height": 0.77})
    found = leverage_report(body, [SetupInput(preset="conventional"), SetupInput(preset="sumo")], 180.0, draws=2)
    return [Figure(one, one.name.capitalize()) for one in found.styles]


@pytest.mark.parametrize("size", [DESK, PHONE])
def test_both_figures_stand_on_one_floor_to_one_scale(both, size):
    drawing = pair(both, cm, size)
    svg = drawing.svg("pair")
    assert svg.count('class="floor"') == 1 and drawing.width == size.width
    radii = re.findall(r'class="disc"[^>]* r="([\d.]+)"', svg)
    assert len(radii) == 2 and len(set(radii)) == 1
    bars = [float(x) for x in re.findall(r'class="bar" cx="([\d.]+)"', svg)]
    assert bars[0] < size.width / 2 < bars[1]
    lines = re.findall(r'class="lockout style-([a-z-]+)" d="M0,([\d.]+)L([\d.]+),', svg)
    assert [name for name, _, _ in lines] == ["conventional", "sumo"]
    assert all(float(end) == size.width for _, _, end in lines)


def test_the_bracket_is_as_long_as_its_number_says(both):
    svg = pair(both, cm, DESK).svg("pair")
    radius = float(re.search(r'class="disc"[^>]* r="([\d.]+)"', svg)[1])
    scale = radius / (both[0].report.setup.disc_diameter_m / 2)
    for one, path in zip(both, re.findall(r'class="bracket" d="M([\d.]+),[\d.]+L([\d.]+),', svg), strict=True):
        assert (float(path[1]) - float(path[0])) / scale == pytest.approx(one.value("hip_bar_distance_m"), abs=0.002)
        assert cm(one.value("hip_bar_distance_m")) in svg


def test_what_was_filmed_leads_and_its_ring_stands_where_the_hips_were(both):
    seen = Figure(both[1].report, "Sumo", 0.34)
    svg = pair([both[0], seen], cm, DESK).svg("pair")
    assert "34 cm filmed" in svg and f"drawn {cm(seen.value('hip_bar_distance_m'))}" in svg
    assert svg.count("filmed-ring") == 1 and "filmed" not in pair(both, cm, DESK).svg("pair")


def test_no_shape_of_one_figure_is_used_by_the_other(both):
    svg = pair(both, cm, DESK).svg("pair")
    made, used = set(re.findall(r' id="(pair-[^"]+)"', svg)), set(re.findall(r'href="#([^"]+)"', svg))
    assert used <= made and {"pair-f0-trunk", "pair-f1-trunk"} <= used


ROWS = (
    LinkRow("Back", "below knee", (Asked("conventional", 0.98, 0.9, 1.04), Asked("sumo", 0.88, 0.8, 0.95))),
    LinkRow("Legs", "floor", (Asked("conventional", 0.36, 0.3, 0.4),), "not known yet: front squat"),
)


def test_dots_stand_at_their_shares_and_a_wide_range_is_not_drawn():
    svg = demands_chart(ROWS, "her limit", "How hard 130 kg is").svg("d")
    spots = [float(x) for x in re.findall(r'<circle class="m-[^"]*" cx="([\d.]+)"', svg)]
    assert spots == pytest.approx([at_share(0.98), at_share(0.88)], abs=0.06)
    assert at_share(1.0) == LIMIT_X and "not known yet: front squat" in svg and "her limit" in svg
    assert svg.count('class="span') == 2
    assert "98 in conventional and 88 in sumo" in svg


def test_near_shares_are_lettered_apart():
    near = LinkRow("Back", "floor", (Asked("conventional", 0.89, 0.8, 0.95), Asked("sumo", 0.88, 0.8, 0.95)))
    svg = demands_chart((near,), "limit", "t").svg("d")
    left = re.search(r'x="([\d.]+)" y="[\d.]+" text-anchor="end">88<', svg)
    right = re.search(r'x="([\d.]+)" y="[\d.]+" text-anchor="start">89<', svg)
    assert left and right and float(left[1]) < float(right[1])


def course(**changes) -> Course:
    plain = {
        "new_style": "sumo", "old_style": "conventional", "days": 84.0, "points": ((3.0, 111.0), (58.0, 129.0)),
        "band": ((0.0, 105.0, 120.0), (84.0, 125.0, 142.0)), "level": 134.0, "heading": (130.0, 145.0), "today": 60.0,
        "begins": "28 Sep", "ends": "21 Dec", "unit": "kg",
    }  # fmt: skip
    return Course(**(plain | changes))


def test_a_course_has_a_point_a_day_the_level_and_where_it_heads():
    svg = course_chart(course(), "Trial course, kg").svg("c")
    assert svg.count("m-open o-sumo") == 2 and "l-conventional" in svg and "130–145" in svg and ">134<" in svg
    assert "2 sumo days from 111 to 129 kg" in svg and ">today<" in svg
    y = {n: float(re.search(rf'y="([\d.]+)"[^>]*>{n}<', svg)[1]) for n in ("134", "130–145")}
    assert abs(y["134"] - y["130–145"]) >= 15.9


def test_before_a_trial_only_the_usual_course_is_drawn():
    svg = course_chart(course(points=(), heading=None, today=None), "What to expect, kg").svg("c")
    assert "m-open" not in svg and ">today<" not in svg and 'class="hatch"' in svg and ">134<" in svg


def test_easy_weeks_are_hatched_and_lower():
    weeks = [Week(100, False), Week(105, False), Week(110, False), Week(90, True)]
    svg = weeks_chart(weeks, "30 Nov", "25 Jan", "Paused, kg").svg("w")
    tops = [float(y) for y in re.findall(r'<rect class="(?:work|easy)" x="[\d.]+" y="([\d.]+)"', svg)]
    assert len(tops) == 4 and tops[2] < tops[1] < tops[0] < tops[3]
    assert svg.count('class="hatch"') == 1 and "look again" in svg and "90 easy" in svg
