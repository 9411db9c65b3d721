"""Odds between styles against quadrature of the same prior and likelihood."""

import pytest
from scipy import stats
from scipy.integrate import quad

from analysis.core.styles.odds import StyleEvidence, difference, usual_weights


def test_the_combination_is_the_normal_posterior_that_scipy_gives_by_quadrature():
    evidence = StyleEvidence("sumo", "conventional", log_difference=0.05, log_sd=0.03)
    mean, sd = difference(evidence, usual_weights())
    prior_sd = (usual_weights().population_sd ** 2 * (1 - usual_weights().build_r ** 2)) ** 0.5
    density = lambda d: stats.norm.pdf(d, 0, prior_sd) * stats.norm.pdf(0.05, d, 0.03)  # noqa: E731
    total = quad(density, -1, 1)[0]
    expected = quad(lambda d: d * density(d), -1, 1)[0] / total
    second = quad(lambda d: d * d * density(d), -1, 1)[0] / total
    assert mean == pytest.approx(expected, abs=1e-6)
    assert sd == pytest.approx((second - expected**2) ** 0.5, abs=1e-6)
