"""Draws of habits: fixed by the seed, mirrored, paired between styles that are one lifter's way."""

import numpy as np
import pytest

from analysis.core.body.anthropometry import drawn_bodies
from analysis.core.pull.habits import HABIT_BOUNDS, HABIT_PRIORS, drawn_habits, prior_covariance
from analysis.core.pull.setups import DEFAULT_SETUPS, drawn_setups, filled_setup, setup_arrays
from analysis.core.records.bodies import BodyInput
from analysis.core.records.postures import HABITS
from analysis.core.records.pulls import SetupInput

MAN = BodyInput("m", {"stature": 1.78, "mass": 85.0})
STYLES = tuple(HABIT_PRIORS)
COVARIANCES = [prior_covariance(style) for style in STYLES]


def test_draws_have_the_spread_they_state_and_the_middle_first():
    found = drawn_habits(STYLES, COVARIANCES, 4000, 1)
    assert found.shape == (4001, 4, 10) and not found[0].any()
    np.testing.assert_allclose(found[1:].mean(axis=0), 0.0, atol=1e-12)  # mirrored pairs
    spread = [HABIT_PRIORS[style].sd for style in STYLES]
    np.testing.assert_allclose(found[1:].std(axis=0), spread, rtol=0.06)


def test_a_correlated_covariance_is_drawn_with_its_correlation():
    covariance = prior_covariance("sumo")
    covariance[3, 4] = covariance[4, 3] = -0.7 * np.sqrt(covariance[3, 3] * covariance[4, 4])
    found = drawn_habits(["sumo"], [covariance], 4000, 1)[1:, 0]
    assert np.corrcoef(found[:, 3], found[:, 4])[0, 1] == pytest.approx(-0.7, abs=0.04)


def test_the_same_seed_gives_the_same_draws_and_styles_of_one_way_depart_together():
    alone = drawn_habits(["sumo"], [prior_covariance("sumo")], 50, 7)[:, 0]
    every = drawn_habits(STYLES, COVARIANCES, 50, 7)
    np.testing.assert_array_equal(alone, every[:, STYLES.index("sumo")])
    np.testing.assert_allclose(every[:, STYLES.index("conventional")], every[:, STYLES.index("rounded")])
    assert abs(np.corrcoef(every[:, 0, 2], every[:, 1, 2])[0, 1]) < 0.35
    assert np.abs(drawn_habits(["sumo"], [prior_covariance("sumo")], 50, 8)[:, 0] - alone).max() > 0.01


def test_drawn_setups_stay_in_bounds_and_what_is_exact_stays_exact():
    bodies = drawn_bodies(MAN, 300)
    setups = [filled_setup(asked) for asked in (*DEFAULT_SETUPS, SetupInput("sumo", stance_m=0.6, drift_m=0.0))]
    found = drawn_setups(setups, bodies)
    middle = setup_arrays(setups)
    for key, (low, high) in HABIT_BOUNDS.items():
        values = getattr(found, key.rsplit("_", 1)[0])
        assert values.shape == (301, 5) and values.min() >= low and values.max() <= high
        np.testing.assert_allclose(values[0], getattr(middle, key.rsplit("_", 1)[0]))
    assert (found.stance[:, 4] == 0.6).all() and (found.drift[:, 4] == 0.0).all()
    assert found.stance[:, 1].std() == pytest.approx(0.11, rel=0.2)
    assert (found.shin_gap == 0.0).any()


def test_a_back_that_rounds_on_the_way_starts_where_it_was_asked_to():
    bodies = drawn_bodies(MAN, 20)
    flat_start = filled_setup(SetupInput("rounded", flexion_at_start_rad=0.2))
    found = drawn_setups([flat_start, filled_setup(SetupInput("rounded"))], bodies)
    assert (found.flexion_at_start[:, 0] == 0.2).all()
    np.testing.assert_array_equal(found.flexion_at_start[:, 1], found.spinal_flexion[:, 1])


def test_no_setups_give_no_draws():
    assert drawn_setups([], drawn_bodies(MAN, 3)).stance.shape[-1] == 0


def test_habits_are_ten_in_one_order():
    assert len(HABITS) == 10 and tuple(HABIT_BOUNDS) == HABITS
    assert all(len(prior.mean) == len(prior.sd) == 10 for prior in HABIT_PRIORS.values())
