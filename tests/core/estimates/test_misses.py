"""Reading misses: what explains one comes out first; tables, the classical reading, position or strength."""

import pytest

from analysis.core.estimates.misses import (
    classical_reading,
    is_hard,
    misses_by_position,
    position_finding,
    position_of,
    read_misses,
    rounding_from,
)
from analysis.core.settings import DEFAULTS
from tests.core.logbook import day, missed, note, pull
from tests.core.weak_link_log import TODAY, lifter
from tests.said import said

LEVEL = 200.0


def read(sets, days=(), settings=DEFAULTS, **levels):
    one = lifter(sets, days)
    known = {s.key: LEVEL if s.tags.lift == "deadlift" else 160.0 for s in sets}
    return read_misses(one, {**known, **levels}, day(TODAY), settings)


@pytest.mark.parametrize(
    ("more", "code"),
    [
        ({}, ""),
        ({"result": "stopped-pain"}, "pain"),
        ({"result": "not-tried"}, "not-tried"),
        ({"result": "no-lift", "rule_reason": "not-erect"}, "rule"),
        ({"gave_way": "grip-opened"}, "grip"),
        ({"gave_way": "lost-balance"}, "balance"),
        ({"gave_way": "feet-moved"}, "balance"),
        ({"gave_way": "back-rounded"}, ""),
    ],
)
def test_what_the_row_itself_says(more, code):
    given = {"result": "missed", **more}
    (found,) = read([pull(TODAY, 198, 1, **given)])
    assert found.code == code
    assert bool(found.reason) == bool(code)


@pytest.mark.parametrize(("load", "code"), [(179, "light"), (181, ""), (209, ""), (240, "")])
def test_load_against_the_level_of_its_day(load, code):
    (found,) = read([missed(TODAY, load)])
    assert found.code == code
    assert found.share == pytest.approx(load / LEVEL)


@pytest.mark.parametrize(("load", "excess"), [(199, 0.0), (205, 0.0125), (211, 0.025), (240, 0.05), (300, 0.05)])
def test_half_of_what_is_over_the_level_is_put_on_the_day_up_to_a_limit(load, excess):
    (found,) = read([missed(TODAY, load)])
    assert found.counts and found.excess == pytest.approx(excess)
    assert bool(found.reasons) == bool(excess)


@pytest.mark.parametrize(("before", "left"), [(0, 0.85), (1, 0.50), (2, 0.30), (3, 0.15), (4, 0.0)])
def test_hard_squats_before_a_miss_tire_by_the_hours_and_leave_it_in(before, left):
    squat = pull(TODAY - before, 150, 3, 9, lift="squat", style="", depth_verified=True)
    found = read([squat, missed(TODAY, 198)])[-1]
    assert found.counts and found.fatigue == left
    assert found.weight == pytest.approx(1.0 - 0.5 * left)
    assert [code for code, _ in found.reasons] == (["tired-squats"] if left else [])


def test_hard_pulls_of_the_same_day_are_the_same_session_but_yesterday_s_tire():
    assert read([pull(TODAY, 190, 1, 9), missed(TODAY, 198)])[-1].fatigue == 0.0
    assert read([pull(TODAY - 1, 190, 1, 9), missed(TODAY, 198)])[-1].reasons == (("tired-pulls", 0.5),)


def test_the_hours_are_a_setting():
    rows = [pull(TODAY - 3, 190, 1, 9), missed(TODAY, 198)]
    assert read(rows, settings=DEFAULTS.with_values({"miss.fatigue_hours": 48}))[-1].fatigue == 0.0
    assert read(rows)[-1].fatigue == 0.15


def test_light_work_does_not_tire():
    light = pull(TODAY - 1, 120, 5, 6)
    assert not is_hard(light, LEVEL)
    assert read([light, missed(TODAY, 198)])[-1].fatigue == 0.0


@pytest.mark.parametrize(("soreness", "left"), [(4, 0.0), (5, 0.30)])
def test_a_sore_day_counts_like_a_hard_day_43_hours_before(soreness, left):
    found = read([missed(TODAY, 198)], [note(TODAY, soreness)])[0]
    assert found.counts and found.fatigue == left


def test_a_sudden_fall_after_pain_is_read_as_pain_and_without_pain_is_used():
    sets = [pull(TODAY - 17 - 7 * w, 150, 3, 8) for w in range(8)]
    sets += [pull(TODAY - 1, 143, 1, 6), missed(TODAY - 1, 198)]
    assert read(sets, [note(TODAY - 3, 2, pain_event=True)])[-1].code == "pain"
    assert read(sets)[-1].counts


def test_a_pain_event_that_day_comes_before_everything_else():
    found = read([missed(TODAY, 230, gave_way="grip-opened")], [note(TODAY, 8, pain_event=True)])
    assert found[0].code == "pain"


@pytest.mark.parametrize(("sessions", "worth"), [(2, 0.5), (3, 1.0)])
def test_a_note_on_a_bar_that_is_still_new_counts_half(sessions, worth):
    rows = [pull(TODAY - 60 - d, 150, 3, 7) for d in range(5)]
    rows += [pull(TODAY - 30 - 4 * d, 150, 3, 7, bar="flexible") for d in range(sessions)]
    assert read([*rows, missed(TODAY, 198, bar="flexible")])[-1].weight == worth


def test_without_a_level_nothing_is_read():
    row = missed(TODAY, 198, key="lone")
    assert read([row], lone=None)[0].code == "no-level"


def test_misses_older_than_the_window_no_longer_count():
    assert read([missed(TODAY - 85, 198), missed(TODAY - 83, 198)])[0].set.day == day(TODAY - 83)
    assert len(read([missed(TODAY - 85, 198), missed(TODAY - 83, 198)])) == 1


def test_position_is_the_last_of_two_slow_points_and_never_moved_is_the_floor():
    assert position_of(missed(0, 198, miss_position="floor", second_position="at-knee")) == "at-knee"
    assert position_of(missed(0, 198, gave_way="never-moved")) == "floor"
    assert position_of(missed(0, 198)) == ""


def test_the_table_runs_from_the_floor_up_and_keeps_left_out_misses_apart():
    rows = [
        missed(TODAY, 198, miss_position="lockout"),
        missed(TODAY - 7, 199, miss_position="floor"),
        missed(TODAY - 14, 160, miss_position="floor"),
    ]
    floor, lockout = misses_by_position(read(rows))
    assert (floor.position, floor.counted, floor.left_out) == ("floor", 1, 1)
    assert floor.low_share == pytest.approx(0.8)
    assert (lockout.position, lockout.counted) == ("lockout", 1)
    assert set(floor.set_keys) == {rows[1].key, rows[2].key}


def test_the_classical_reading_names_its_rows_and_says_it_has_no_source():
    rows = [missed(TODAY - 7 * i, 198, miss_position="floor") for i in range(3)]
    (found,) = classical_reading(read(rows), "conventional")
    assert found.code == "classical-floor"
    assert "3 of 3" in said(found.text) and "no source" in said(found.text)
    assert set(found.set_keys) == {r.key for r in rows}


def test_the_classical_reading_of_a_round_back_at_lockout_is_the_back():
    rows = [missed(TODAY - 7 * i, 198, miss_position="lockout", gave_way="straight-but-round") for i in range(3)]
    assert "the back" in classical_reading(read(rows), "conventional")[0].text


@pytest.mark.parametrize(
    ("block", "rounded", "code"),
    [
        (1.12, True, "position-not-strength"),
        (1.12, False, "top-open"),
        (1.05, True, "top-open"),
        (1.01, True, "strength-at-top"),
        (None, True, None),
    ],
)
def test_misses_at_the_top_are_told_apart_by_the_block_pull_and_rounding(block, rounded, code):
    rows = [missed(TODAY - 7 * i, 198, miss_position="lockout") for i in range(3)]
    sets = [*rows, pull(TODAY - 1, 185, 1, 8, shape="rounded-before" if rounded else "flat")]
    found = position_finding(read(rows), sets, "conventional", block)
    assert (found.code if found else None) == code


def test_misses_at_the_floor_are_no_question_of_position():
    rows = [missed(TODAY - 7 * i, 198, miss_position="floor") for i in range(3)]
    assert position_finding(read(rows), rows, "conventional", 1.12) is None


def test_rounding_is_the_lightest_load_at_which_it_was_seen():
    sets = [pull(0, 150, shape="flat"), pull(1, 185, shape="rounded-during"), pull(2, 195, shape="rounded-before")]
    assert rounding_from(sets, "conventional") == 185
    assert rounding_from(sets[:1], "conventional") is None
