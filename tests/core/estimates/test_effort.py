"""The same work costing more: RPE, seconds, and jumps within a day."""

import pytest

from analysis.core.estimates.effort import big_jumps, kinds_in_words, rpe_creeps, rpe_of, slower_pulls
from analysis.core.settings import layered
from tests.core.logbook import day, missed, pull


def test_rpe_is_ten_minus_the_reserve():
    assert rpe_of(pull(0, 100, 3, 8.5)) == 8.5
    assert rpe_of(pull(0, 100, 3)) is None


def test_the_same_load_a_point_harder_is_creep_with_its_rows():
    sets = [pull(10, 150, 3, 7, key="a"), pull(40, 152, 3, 8, key="b")]
    (found,) = rpe_creeps(sets, day(60))
    assert (found.before_rpe, found.now_rpe, found.set_keys) == (7, 8, ("a", "b"))
    assert "conventional" in kinds_in_words([found])[0]


@pytest.mark.parametrize(
    "other",
    [
        {"load": 160, "reps": 3, "rpe": 8},
        {"load": 150, "reps": 4, "rpe": 8},
        {"load": 150, "reps": 3, "rpe": 7.5},
        {"load": 150, "reps": 3, "rpe": 8, "bar": "flexible"},
        {"load": 150, "reps": 3, "rpe": 8, "straps": True},
        {"load": 150, "reps": 3, "rpe": None},
    ],
)
def test_other_work_is_not_compared(other):
    assert rpe_creeps([pull(10, 150, 3, 7), pull(40, **other)], day(60)) == ()


def test_creep_is_looked_for_in_the_last_eight_weeks_only():
    assert rpe_creeps([pull(0, 150, 3, 7), pull(58, 150, 3, 9)], day(60)) == ()


def test_half_a_point_counts_when_the_club_says_so():
    sets = [pull(10, 150, 3, 7), pull(40, 150, 3, 7.5)]
    assert len(rpe_creeps(sets, day(60), layered({"load.creep_rpe": 0.5}))) == 1


def test_a_slower_bar_at_the_same_load():
    sets = [pull(10, 180, 1, 8, pull_seconds=2.0), pull(45, 180, 1, 8, pull_seconds=2.4)]
    (found,) = slower_pulls(sets, day(60))
    assert found.number("before_s") == 2.0 and found.number("now_s") == 2.4
    assert slower_pulls([sets[0], pull(45, 180, 1, 8, pull_seconds=2.1)], day(60)) == ()


def test_a_big_jump_is_noted_only_when_the_heavier_set_was_missed():
    assert big_jumps([pull(0, 140), missed(0, 170)])[0].number("jump") == pytest.approx(170 / 140 - 1)
    assert big_jumps([pull(0, 140), pull(0, 170)]) == ()
    assert big_jumps([pull(0, 160), missed(0, 170)]) == ()
    assert big_jumps([pull(0, 140), missed(1, 170)]) == ()
