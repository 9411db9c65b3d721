"""The rule of expected gain: against brute force, at its limits, and over simulated trials in the worst worlds."""

from datetime import date, timedelta
from math import exp, log

import numpy as np
import pytest

from analysis.core.records.estimates import TrialPoint
from analysis.core.settings import DEFAULTS, layered
from analysis.core.trials.model import TrialData, TrialPrior, infer
from analysis.core.trials.rule import Call, ExpectedGain, call_of, gain_of, normal_gain, own_noise, trial_prior
from tests.benchmarks.calibrate_trial_rule import HALF_LEAN, WORLDS, cell

DAY = date(2026, 3, 4)


def gain(g, b, chance):
    return ExpectedGain(np.array(g), np.array(b), np.array(chance))


@pytest.mark.parametrize(("mean", "sd"), [(0.02, 0.03), (-0.05, 0.02), (0.0, 0.08)])
def test_expected_gain_of_a_normal_by_drawing(mean, sd):
    draws = np.random.default_rng(1).normal(mean, sd, 400_000)
    assert float(normal_gain(mean, sd)) == pytest.approx(np.maximum(draws, 0).mean(), abs=2e-4)


def test_pairs_of_one_day_by_the_whole_covariance():
    """Posterior with paired days equals the textbook generalised least squares with the full noise covariance."""
    y = np.log(np.array([180.0, 176.0, 183.0, 178.0]))
    is_new, weeks = np.array([1.0, 0.0, 1.0, 0.0]), np.array([1.0, 1.0, 3.0, 3.0])
    exposures, partner = np.array([0.0, 0.0, 1.0, 0.0]), np.array([-1, 0, -1, 2])
    settings = layered({"trial.rule_tau_spread": 0.1, "trial.rating_sd": 0.0})
    before = TrialPrior(0.01, 0.08)
    data = TrialData(y, is_new, exposures, weeks, np.full(4, 0.035), partner, 0.4)
    found = infer(data, settings, before=before)
    k = int(np.argmin(np.abs(found.taus[:21] - settings["trial.tau"])))
    cov = 0.035**2 * np.array([[1, 0.4, 0, 0], [0.4, 1, 0, 0], [0, 0, 1, 0.4], [0, 0, 0.4, 1]])
    dip = is_new * np.exp(-exposures / found.taus[k])
    design = np.stack([np.ones(4), is_new, dip, weeks], axis=1)
    mean = np.array([y.mean(), 0.01, np.log1p(-0.15), 0.0])
    prior = np.diag([0.5, 0.08, 0.09, 0.002]) ** 2
    gain_matrix = prior @ design.T @ np.linalg.inv(design @ prior @ design.T + cov)
    expected = mean + gain_matrix @ (y - design @ mean)
    assert found.means[k] == pytest.approx(expected, abs=1e-9)
    assert found.covariances[k] == pytest.approx(prior - gain_matrix @ design @ prior, abs=1e-12)


def test_a_loss_counts_twice():
    assert call_of(gain(0.021, 0.010, 0.7), extended=True) == Call.ADOPT
    assert call_of(gain(0.019, 0.010, 0.7), extended=True) == Call.KEEP
    assert call_of(gain(0.019, 0.010, 0.7), layered({"trial.loss_weight": 1.5}), extended=True) == Call.ADOPT


def test_unclear_means_four_more_weeks_once_and_near_even_means_level():
    assert call_of(gain(0.012, 0.008, 0.7)) == Call.FOUR_MORE_WEEKS
    assert call_of(gain(0.004, 0.004, 0.54)) == Call.LEVEL
    assert call_of(gain(0.0045, 0.001, 0.56)) == Call.ADOPT
    assert call_of(gain(0.03, 0.001, 0.9), old_kept=False) == Call.KEEP


def points(style_sums, level, sd=0.035):
    return [TrialPoint(DAY + timedelta(weeks=w), w, e, level * exp(v), sd, ()) for w, e, v in style_sums]


def test_one_lifters_points_and_own_noise():
    noise = np.random.default_rng(3).normal(0, 0.035, 30)
    old = points([(w - 6.0, 0.0, noise[i]) for i, w in enumerate(range(6))], 180.0)
    new = points([(0.3 + k / 1.5, float(k), log(1.06) - 0.16 * exp(-k / 8)) for k in range(18)], 180.0)
    kept = points([(0.3 + k / 1.5, 0.0, 0.0) for k in range(1, 18, 3)], 180.0)
    prior = trial_prior(0.02, 0.08)
    assert prior.mean == pytest.approx(0.01)
    found = gain_of([*old, *kept], new, prior)
    alone = gain_of(old, new, prior)
    assert call_of(found) == Call.ADOPT
    assert float(found.loss) < float(alone.loss)  # the old style kept makes the answer clearer
    assert own_noise(old[:4]) is None
    many = points([(float(w), 0.0, v) for w, v in enumerate(np.random.default_rng(4).normal(0, 0.0525, 400))], 180.0)
    assert own_noise(many) == pytest.approx(1.5, abs=0.12)


@pytest.mark.slow
@pytest.mark.parametrize("name", ["as assumed", "own noise x 1.5", "new style rated 1.5 % too easy"])
def test_a_worse_style_is_seldom_and_a_better_one_mostly_adopted(name):
    """600 trials, prior mean halved from the surest lean: limits 5 % plus two standard errors, and 0.85 less two."""
    world = next(w for w in WORLDS if w.name == name)
    rng = np.random.default_rng(12)
    worse = cell(np.full(600, log(0.95)), rng, world, True, HALF_LEAN, 0.08)
    better = cell(np.full(600, log(1.05)), rng, world, True, HALF_LEAN, 0.08)
    assert worse["adopt"] <= 0.05 + 2 * (0.05 * 0.95 / 600) ** 0.5
    assert better["adopt"] >= 0.85 - 2 * (0.85 * 0.15 / 600) ** 0.5
    assert DEFAULTS["trial.prior_share"] == 0.5  # what the halved mean above stands for
