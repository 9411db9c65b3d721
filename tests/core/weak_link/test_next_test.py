"""The next best test: information is never negative, known results tell little, and following it helps."""

import numpy as np
import pytest

from analysis.core.settings import DEFAULTS
from analysis.core.weak_link.next_test import worth_of_tests
from analysis.core.weak_link.posterior import even_bests, limiter_chances
from analysis.core.weak_link.problem import Evidence, Stuck, stack
from analysis.core.weak_link.sampler import sample
from tests.benchmarks.calibrate_weak_points import shares_by_order
from tests.simulated_lifters import KIND, TEST_SD, tables


@pytest.fixture(scope="module")
def table():
    return tables()[1]


def worth(table, levels, stuck=(), style="conventional", tests=("block", "deficit", "front-squat", "straps")):
    kinds = len(table.kinds)
    level, sd = np.full(kinds, np.nan), np.full(kinds, np.nan)
    for key, (kg, width) in levels.items():
        level[KIND[key]], sd[KIND[key]] = np.log(kg), width
    held = np.where(np.arange(kinds) == 0, float(len(stuck)), 0.0)
    problem = stack([table], [Evidence(level, sd, tuple(stuck), np.zeros(kinds), held)], DEFAULTS)
    found = sample(problem, KIND[style])
    even = even_bests(problem, found, 0)
    rows = worth_of_tests(problem, found, even, 0, KIND[style], [(KIND[t], TEST_SD) for t in tests])
    names = {KIND[t]: t for t in tests}
    return {names[row.kind]: row for row in rows}, limiter_chances(found, KIND[style])[0]


def test_bits_are_between_none_and_what_is_open(table):
    rows, chances = worth(table, {"conventional": (190, 0.03)})
    open_bits = -(chances[chances > 0] * np.log2(chances[chances > 0])).sum()
    for row in rows.values():
        assert 0.0 <= row.bits <= 2.0 * open_bits
        assert row.low_kg < row.middle_kg < row.high_kg


def test_less_is_left_to_learn_once_the_link_is_surer(table):
    stuck = [Stuck(str(i), 0, 1, 2) for i in range(12)]
    sure, _ = worth(table, {"conventional": (190, 0.03), "squat": (150, 0.03)}, stuck)
    unsure, _ = worth(table, {"conventional": (190, 0.03)})
    assert max(r.bits for r in sure.values()) < 0.7 * max(r.bits for r in unsure.values())


def test_a_result_already_known_tells_less(table):
    fresh, _ = worth(table, {"sumo": (190, 0.03)}, style="sumo")
    known, _ = worth(table, {"sumo": (190, 0.03), "front-squat": (120, 0.015)}, style="sumo")
    assert known["front-squat"].bits < 0.6 * fresh["front-squat"].bits


def test_a_low_and_a_high_front_squat_say_opposite_things_about_the_legs_in_sumo(table):
    rows, chances = worth(table, {"sumo": (190, 0.03)}, style="sumo")
    row = rows["front-squat"]
    assert row.chances_low[1] > chances[1] > row.chances_high[1]


def test_the_front_squat_tells_nothing_about_a_conventional_pull_that_legs_do_not_limit(table):
    rows, _ = worth(table, {"conventional": (190, 0.03)})
    assert min(rows, key=lambda name: rows[name].bits) == "front-squat"


def test_following_the_expected_information_learns_and_is_no_worse_than_a_random_order():
    chosen, random = (shares_by_order(64, flag, "sumo", size=0.3, steps=2) for flag in (True, False))
    assert chosen[0] == random[0]
    assert chosen[2] > chosen[0]
    assert chosen[1:].mean() >= random[1:].mean() - 0.03
