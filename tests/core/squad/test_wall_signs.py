"""What the log adds to the wall: slips, heavy misses, private days, and half a year as 13 points and a picture."""

import re
from datetime import date, timedelta

import pytest

from analysis.core.estimates.running_best import running_bests
from analysis.core.records.lifts import DayRecord, LifterRecord, PullTags, SetRecord
from analysis.core.settings import DEFAULTS
from analysis.core.squad.review import AtHand
from analysis.core.squad.signs import POINTS, drawn_misses, half_year, wall_signs
from analysis.drawings.trend import EDGE, HEIGHT, WIDTH, sparkline

TODAY = date(2026, 6, 15)


def pull(days_ago: int, kg: float, style: str = "conventional", **more) -> SetRecord:
    tags = PullTags(style=style, bar="stiff", grip="mixed")
    base = {"reps_made": 1, "reps_tried": 1, "rir_low": 1.0, "rir_high": 1.0}
    return SetRecord(f"k{days_ago}-{kg}", TODAY - timedelta(days=days_ago), kg, tags=tags, **{**base, **more})


def miss(days_ago: int, kg: float, **more) -> SetRecord:
    return pull(days_ago, kg, reps_made=0, result="missed", rir_low=None, rir_high=None, **more)


def hand(sets=(), days=()) -> AtHand:
    lifter = LifterRecord(
        key="x", sex="f", age=30.0, standing="trained", measurements_m={}, days=tuple(days),
        sets=tuple(sorted(sets, key=lambda s: s.day)),
    )  # fmt: skip
    return AtHand(lifter, TODAY, DEFAULTS, running_bests(lifter.sets, TODAY, DEFAULTS), None, TODAY)


BASE = [pull(d, 140) for d in (160, 90, 60, 45, 30, 16, 3)]


def test_misses_of_twelve_weeks_and_those_that_slipped_are_counted():
    signs = wall_signs(hand([*BASE, miss(84, 150, gave_way="grip-opened"), miss(83, 151, gave_way="grip-opened"),
                             miss(20, 152, gave_way="back-rounded")]))  # fmt: skip
    assert (signs.misses, signs.slips, signs.last_miss) == (2, 1, "k20-152")


def test_a_heavy_miss_counts_for_a_week_and_only_when_heavy():
    best = hand(BASE).bests
    level = next(iter(best.values())).now_kg
    assert wall_signs(hand([*BASE, miss(2, 150)])).heavy_miss[1] == TODAY - timedelta(days=2)
    assert wall_signs(hand([*BASE, miss(2, 0.8 * level)])).heavy_miss is None
    assert wall_signs(hand([*BASE, miss(9, 150)])).heavy_miss is None


def test_soreness_from_the_threshold_and_pain_name_their_newest_day():
    def note(days_ago, **more):
        return DayRecord(TODAY - timedelta(days=days_ago), **more)

    assert wall_signs(hand(BASE, [note(2, soreness=4)])).private == ""
    found = wall_signs(hand(BASE, [note(5, soreness=7), note(1, soreness=2)]))
    assert found.private == (TODAY - timedelta(days=1)).isoformat()
    assert wall_signs(hand(BASE, [note(3, pain_event=True)])).private == (TODAY - timedelta(days=3)).isoformat()


def test_last_heavy_pull_leaves_light_days_out():
    signs = wall_signs(hand([*BASE, pull(1, 60)]))
    assert (signs.last_heavy, signs.last_logged) == (TODAY - timedelta(days=3), TODAY - timedelta(days=1))


def test_half_a_year_is_thirteen_points_a_style_and_leaves_abandoned_styles_out():
    sets = [*BASE, *(pull(d, 120, "sumo") for d in (400, 300))]
    lines = half_year(hand(sets))
    assert set(lines) == {"conventional"} and len(lines["conventional"]) == POINTS
    assert lines["conventional"][0] is None and lines["conventional"][-1] > 140


def test_only_misses_of_three_reps_and_fewer_within_half_a_year_are_drawn():
    found = drawn_misses(hand([*BASE, miss(91, 150), miss(10, 110, reps_tried=5), miss(200, 150)]))
    assert found == ((pytest.approx(0.5), 150.0),)


# --- the picture --------------------------------------------------------------------------------------------------


def points(svg: str, cls: str) -> list[tuple[float, float]]:
    path = re.search(rf'class="{cls}" d="M([^"]+)"', svg).group(1)
    return [tuple(map(float, one.split(","))) for one in path.split("L")]


def test_the_line_spans_the_picture_and_rises_with_the_load():
    drawn = points(sparkline({"conventional": [100.0, 110.0, 120.0]}), "l-conventional")
    assert [x for x, _ in drawn] == [EDGE, WIDTH / 2, WIDTH - EDGE]
    assert drawn[0][1] > drawn[1][1] > drawn[2][1]
    assert min(y for _, y in drawn) > EDGE and max(y for _, y in drawn) < HEIGHT - EDGE, "15 % of room is left"


def test_a_flat_half_year_looks_flat():
    drawn = points(sparkline({"sumo": [200.0, 201.0]}), "l-sumo")
    assert abs(drawn[0][1] - drawn[1][1]) < 0.1 * HEIGHT


def test_the_scale_is_the_lifters_own():
    light, heavy = sparkline({"sumo": [50.0, 60.0]}), sparkline({"sumo": [250.0, 300.0]})
    assert light == heavy


def test_misses_are_rings_unknown_beginnings_are_left_out_and_nothing_is_an_empty_picture():
    svg = sparkline({"sumo": [None, None, 100.0, 104.0]}, [(1.0, 108.0)])
    assert len(points(svg, "l-sumo")) == 2
    ring = re.search(r'class="miss" cx="([\d.]+)" cy="([\d.]+)"', svg)
    assert float(ring.group(1)) == WIDTH - EDGE and float(ring.group(2)) < points(svg, "l-sumo")[-1][1]
    assert "path" not in sparkline({}) and "circle" in sparkline({"sumo": [None, 100.0]})
