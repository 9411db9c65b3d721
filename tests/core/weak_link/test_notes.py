"""What notes are worth: caps, habits, tiredness; and one honest look at whole simulated logs."""

import numpy as np
import pytest

from analysis.core.records.bodies import BodyInput
from analysis.core.settings import DEFAULTS
from analysis.core.strength.demand_table import KindAsked, demand_table
from analysis.core.weak_link.likelihood import condition_terms, evaluate, link_allowed, stuck_chances
from analysis.core.weak_link.notes import cell_chances, notes_term
from analysis.core.weak_link.posterior import limiter_chances
from analysis.core.weak_link.prior import UNKNOWNS, unknowns
from analysis.core.weak_link.problem import NOT_NOTED, Evidence, Stuck, note_counts, stack
from analysis.core.weak_link.sampler import sample
from analysis.core.weak_link.tabulated import legs_lines
from tests.benchmarks.calibrate_weak_worlds import read_lifter
from tests.simulated_lifters import tables


@pytest.fixture(scope="module")
def table():
    return tables()[1]


def problem_of(table, stuck, held=0.0):
    kinds = len(table.kinds)
    level, sd = np.full(kinds, np.nan), np.full(kinds, np.nan)
    level[0], sd[0] = np.log(190), 0.03
    grip = np.where(np.arange(kinds) == 0, held, 0.0)
    return stack([table], [Evidence(level, sd, tuple(stuck), np.zeros(kinds), grip)], DEFAULTS)


def back_over_hips(table, stuck, held=0.0):
    chances = limiter_chances(sample(problem_of(table, stuck, held)), 0)[0]
    return float(chances[2] / chances[0])


def terms(table, stuck, count=1500):
    problem = problem_of(table, stuck)
    draws = np.random.default_rng(8).standard_normal((1, count, UNKNOWNS))
    state = unknowns(problem, draws)
    cells = {at: condition_terms(problem, state, at, link_allowed(problem, state, at[0])) for at in problem.conditions}
    return problem, cells, (1, count)


@pytest.mark.parametrize("place", [0, 2, 5])
def test_one_note_of_a_place_moves_two_states_five_to_one_at_most(table, place):
    problem, cells, shape = terms(table, [Stuck("a", 0, place)])
    found = notes_term(problem, problem.counts, cells, shape)
    assert np.log(1.3) < np.ptp(found) <= np.log(5.0) + 1e-9


@pytest.mark.parametrize("place", [0, 2, 5])
def test_all_places_of_a_lifter_move_two_states_25_to_one_at_most(table, place):
    problem, cells, shape = terms(table, [Stuck(str(i), 0, place) for i in range(12)])
    assert np.ptp(notes_term(problem, problem.counts, cells, shape)) <= np.log(25.0) + 1e-9


def test_twelve_like_notes_look_like_a_habit(table):
    none, four, twelve = (
        np.log(back_over_hips(table, [Stuck(str(i), 0, 1, 2) for i in range(number)])) for number in (0, 4, 12)
    )
    assert four > none + 1.0
    assert none + 0.5 < twelve < four + 0.5  # the same thing twelve times looks like a habit


def test_signs_without_a_place_tell_something_and_less_than_with_it(table):
    none = back_over_hips(table, [])
    alone = back_over_hips(table, [Stuck(str(i), 0, 6, 2) for i in range(3)])
    placed = back_over_hips(table, [Stuck(str(i), 0, 1, 2) for i in range(3)])
    assert none < alone < placed


def test_ten_notes_that_the_grip_held_count_for_less_than_two(table):
    grips = [limiter_chances(sample(problem_of(table, [], held)), 0)[0, 3] for held in (0.0, 1.0, 10.0)]
    two = problem_of(table, [], 10.0).grip_held[0, 0]
    assert grips[0] > grips[1] > grips[2] and two == pytest.approx(10.0 / 5.5)


def test_a_load_over_the_level_tells_the_place_less_sharply(table):
    problem = problem_of(table, [Stuck("a", 0, 1)])
    state = unknowns(problem, np.zeros((1, 1, UNKNOWNS)))
    allowed = link_allowed(problem, state, 0)
    plain, over, tired = (
        stuck_chances(problem, state, at, allowed)[0, 0] for at in ((0, 0.0, 0.0), (0, 0.0, 0.05), (0, 0.85, 0.0))
    )
    assert over.sum() == pytest.approx(1.0) and not np.allclose(over, plain)
    assert tired[2].sum() < plain[2].sum()  # a tired back loses less than tired hips and legs


def test_chances_of_a_note_sum_to_one_over_places(table):
    problem = problem_of(table, [Stuck("a", 0, 1)])
    state = unknowns(problem, np.random.default_rng(1).standard_normal((1, 5, UNKNOWNS)))
    stuck = stuck_chances(problem, state, (0, 0.0, 0.0), link_allowed(problem, state, 0))
    total = sum(cell_chances(state, stuck, 0, place, NOT_NOTED)[0] for place in range(6))
    np.testing.assert_allclose(total, 1.0)


def test_a_piece_less_is_the_likelihood_without_it(table):
    both, one = [Stuck("a", 0, 0, 1), Stuck("b", 0, 1, 2, fatigue=0.3)], [Stuck("a", 0, 0, 1)]
    problem, cells, shape = terms(table, both, 200)
    draws = np.random.default_rng(8).standard_normal((1, 200, UNKNOWNS))
    without = notes_term(problem, note_counts(one, problem.conditions)[None], cells, shape)
    whole = evaluate(problem_of(table, both), draws, (0,)).log_likelihood
    left = evaluate(problem_of(table, one), draws, (0,)).log_likelihood
    np.testing.assert_allclose(whole - left, notes_term(problem, problem.counts, cells, shape) - without, atol=1e-9)


@pytest.mark.parametrize("world", ["as assumed before", "all broken and knee factor"])
def test_whole_simulated_logs_are_read_without_boasting(world):
    """Fourteen lifters of the measured men; the long table is made by `make calibrate`."""
    rows = [read_lifter(world, seed) for seed in range(300, 314)]
    chances, limiter = np.array([r["chances"] for r in rows]), np.array([r["limiter"] for r in rows])
    top, right = chances.max(1), chances.argmax(1) == limiter
    error = np.sqrt((top * (1 - top)).sum()) / len(top)
    assert top.mean() - right.mean() < 0.05 + 2.0 * error
    assert right.mean() > 0.3
    assert sum(r["misses"] for r in rows) > 2 * len(rows) and sum(r["left_out"] for r in rows) < len(rows)


def test_a_ground_that_bears_only_so_much_push_is_read_as_well():
    """In a wide stance the feet cannot push apart as far as asked; the legs' limits are the same straight lines."""
    body = BodyInput("m", {"stature": 1.776, "mass": 81.5}, age=30.0)
    kind = demand_table(body, [KindAsked("wide", style="wide-sumo")]).kinds[0]
    assert np.ptp(np.diff(kind.a[2, :, 0])) > 0.1  # not straight in the push asked for
    knee, adductor, drop = legs_lines(kind)
    least = np.min(1.1 * knee + 1.1 * adductor - drop, axis=0)
    a, force = kind.a[1:3], 1.1 * kind.capacity[1:3, None] - kind.b[1:3]
    tried = np.where(a > 1e-6, force / np.where(a > 1e-6, a, 1.0), 1e4).min(axis=0).max(axis=0)
    assert (least > tried - 1e-6).all() and np.median(least / tried) < 1.2  # five pushes miss the best
