"""The posterior of a style trial against brute force integration."""

from itertools import product

import numpy as np
import pytest
from scipy.stats import multivariate_normal

from analysis.core.trials import TrialData, infer
from analysis.core.trials.heading import DIFFERENCE_ONLY
from analysis.core.trials.model import TREND_MIX, prior, tau_grid


def test_the_posterior_equals_brute_force_integration():
    """Evidence of each tau and trend, and the mean difference, against scipy's density with all else integrated out."""
    rng = np.random.default_rng(5)
    n = 14
    is_new = np.repeat([0.0, 1.0], [5, 9])
    weeks = np.concatenate([np.arange(-5, 0), np.arange(9)]).astype(float)
    exposures = np.concatenate([np.zeros(5), np.arange(9)]).astype(float)
    y = 5.2 + is_new * -0.1 + rng.normal(0, 0.035, n)
    posterior = infer(TrialData(y, is_new, exposures, weeks, np.full(n, 0.035)))
    mean, _ = prior()
    taus, log_prior = tau_grid()
    scores, differences, shares = [], [], []
    for (times, share), (tau, chance) in product(TREND_MIX, zip(taus, log_prior, strict=True)):
        sd = prior()[1] * np.array([1.0, 1.0, 1.0, times])
        shares.append(chance + np.log(share))
        design = np.column_stack([np.ones(n), is_new, is_new * np.exp(-exposures / tau), weeks])
        cover = design @ np.diag(sd**2) @ design.T + np.eye(n) * 0.035**2
        centred = y - y.mean()
        scores.append(multivariate_normal(design @ mean, cover).logpdf(centred))
        gain = np.diag(sd**2) @ design.T @ np.linalg.inv(cover)
        differences.append((mean + gain @ (centred - design @ mean))[1])
    weights = np.exp(np.array(scores) + np.array(shares) - max(scores))
    weights /= weights.sum()
    assert posterior.weights == pytest.approx(weights, abs=1e-8)
    assert float(posterior.mean(DIFFERENCE_ONLY)) == pytest.approx(float(weights @ differences), abs=1e-8)
