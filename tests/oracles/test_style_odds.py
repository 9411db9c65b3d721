"""The belief about a style, and the value of a trial, against quadrature of the same prior and likelihood (scipy)."""

import numpy as np
import pytest
from scipy import stats
from scipy.integrate import quad

from analysis.core.records.decision import StyleResult
from analysis.core.settings import DEFAULTS
from analysis.core.styles.belief import belief, trial_value


def test_the_combination_is_the_normal_posterior_that_scipy_gives_by_quadrature():
    prior_mean, prior_sd = belief(None, None)
    results = [StyleResult(0.05, 0.03), StyleResult(-0.01, 0.05)]
    mean, sd = belief(None, None, results)

    def density(d: float) -> float:
        likelihood = np.prod([stats.norm.pdf(one.difference, d, one.sd) for one in results])
        return float(stats.norm.pdf(d, prior_mean, prior_sd) * likelihood)

    total = quad(density, -1, 1, points=[0.0, 0.05])[0]
    expected = quad(lambda d: d * density(d), -1, 1, points=[0.0, 0.05])[0] / total
    second = quad(lambda d: d * d * density(d), -1, 1, points=[0.0, 0.05])[0] / total
    assert mean == pytest.approx(expected, abs=1e-6)
    assert sd == pytest.approx((second - expected**2) ** 0.5, abs=1e-6)


@pytest.mark.parametrize(("mean", "sd"), [(0.02, 0.05), (-0.04, 0.06), (0.0, 0.03)])
def test_the_value_of_a_trial_is_the_expected_gain_by_quadrature(mean, sd):
    error = DEFAULTS["style.trial_error"]
    moved = sd**2 / np.hypot(sd, error)  # SD of the posterior mean after the trial
    gain = quad(lambda m: max(m, 0.0) * stats.norm.pdf(m, mean, moved), -1, 1, points=[0.0, mean])[0]
    assert float(trial_value(mean, sd)) == pytest.approx(gain - DEFAULTS["style.trial_cost"], abs=1e-6)
