"""The normal distribution and mixtures of it against scipy."""

import numpy as np
import pytest
from scipy.stats import norm

from analysis.core.estimates.normal import mixture_cdf, mixture_quantile, normal_cdf


def test_the_distribution_function_is_scipys_within_its_stated_error():
    z = np.linspace(-8, 8, 4001)
    assert np.abs(normal_cdf(z) - norm.cdf(z)).max() < 1e-7
    assert normal_cdf(0.0) == pytest.approx(0.5, abs=1e-7)


def test_quantiles_of_a_mixture_invert_its_distribution():
    weights, means, sds = np.array([[0.3, 0.7]]), np.array([[-1.0, 2.0]]), np.array([[0.5, 1.5]])
    for chance in (0.1, 0.5, 0.9):
        at = mixture_quantile(chance, weights, means, sds)
        exact = 0.3 * norm.cdf(at, -1, 0.5) + 0.7 * norm.cdf(at, 2, 1.5)
        assert exact == pytest.approx([chance], abs=1e-6)
        assert mixture_cdf(at, weights, means, sds) == pytest.approx([chance], abs=1e-9)
