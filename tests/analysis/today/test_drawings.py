"""The drawn leg keeps true heights, and the course of a trial keeps its loads, days and labels apart."""

import re
from datetime import date, timedelta

import pytest

from analysis.today.course import Course, course
from analysis.today.leg import DISC_RADIUS, FLOOR, PLACES, heights_of, leg

DAY = date(2026, 11, 27)


@pytest.mark.parametrize("stature", [1.48, 1.70, 2.05])
def test_places_rise_from_the_discs_to_the_hanging_hands(stature):
    heights = heights_of(0.27 * stature, 0.52 * stature, 0.43 * stature)
    rising = [heights[key] for key in reversed(PLACES)]
    assert rising == sorted(rising) and rising[0] == DISC_RADIUS and len(set(rising)) == 6


def test_dots_stand_at_true_heights_over_the_floor():
    heights = heights_of(0.46, 0.90, 0.74)
    svg = leg(0.07, 0.46, heights, "at-knee")
    dots = [float(y) for y in re.findall(r'class="stop[^"]*" cx="81" cy="([\d.]+)"', svg)]
    above = dict(zip(PLACES, [FLOOR - y for y in dots], strict=True))
    scale = above["lockout"] / heights["lockout"]
    for key in PLACES:
        assert above[key] == pytest.approx(scale * heights[key], abs=0.1)
    knee = float(re.search(r'class="joint" cx="51" cy="([\d.]+)"', svg).group(1))
    assert FLOOR - knee == pytest.approx(above["at-knee"], abs=0.1)
    assert re.findall(r'class="stop on"', svg) and svg.count(" on") == 2


def trial(points, level=134.0):
    return Course(
        "sumo", points, DAY - timedelta(weeks=9), DAY + timedelta(weeks=3), DAY, level=level, level_style="conventional"
    )


POINTS = [(DAY - timedelta(weeks=9 - i), 111.0 + 2.0 * i) for i in range(9)]


def test_a_load_under_the_level_lies_under_its_line_and_the_labels_say_both():
    svg = course(trial(POINTS), "said", "desk")
    level = float(re.search(r'class="l-conventional" d="M12,([\d.]+)H', svg).group(1))
    dots = [float(y) for y in re.findall(r'class="m-sumo" cx="[\d.]+" cy="([\d.]+)"', svg)]
    assert all(y > level for y in dots) and dots == sorted(dots, reverse=True)
    assert ">134</text>" in svg and ">127</text>" in svg and 'aria-label="said"' in svg


@pytest.mark.parametrize("size", ["desk", "phone"])
def test_labels_of_near_lines_do_not_overlap_and_stay_inside(size):
    svg = course(trial([*POINTS, (DAY, 133.6)]), "x", size)
    width = float(re.search(r'viewBox="0 0 ([\d.]+)', svg).group(1))
    places = [float(y) for y in re.findall(r'class="big[^"]*" x="[\d.]+" y="([\d.]+)"', svg)]
    assert abs(places[0] - places[1]) >= 28
    assert all(float(x) <= width for x in re.findall(r'cx="([\d.]+)"', svg))


def test_today_is_named_only_where_it_does_not_touch_another_day():
    assert ">today<" in course(trial(POINTS), "x", "desk")
    soon = Course("sumo", POINTS, DAY - timedelta(weeks=9), DAY + timedelta(days=2), DAY, 134.0, "conventional")
    assert ">today<" not in course(soon, "x", "phone")
