"""Shares from counts against the Dirichlet-multinomial of scipy and a value in closed form."""

import pytest
from scipy.stats import beta, dirichlet_multinomial

from analysis.core.estimates.counts import BadCounts, beta_quantiles, chance_of_counts, shares


def test_the_chance_of_seven_two_one_under_two_one_one_is_4_in_143():
    assert chance_of_counts((7, 2, 1), (2, 1, 1)) == pytest.approx(4 / 143, abs=1e-14)


@pytest.mark.parametrize(("x", "a"), [((1, 2, 3), (3, 4, 5)), ((0, 0, 4), (0.5, 0.5, 0.5)), ((9, 1), (1, 7))])
def test_chances_agree_with_scipy(x, a):
    assert chance_of_counts(x, a) == pytest.approx(dirichlet_multinomial.pmf(x, a, sum(x)), rel=1e-12)


def test_posterior_shares_of_the_worked_example():
    """Counts (7, 2, 1), prior (2, 1, 1): mean (9, 3, 2)/14; 95 % of the first from Beta(9, 5)."""
    found = shares((7, 2, 1), (2, 1, 1), cover=0.95)
    assert found.mean == pytest.approx([9 / 14, 3 / 14, 2 / 14])
    assert found.sd == pytest.approx([0.123718, 0.105946, 0.090351], abs=1e-6)
    assert (found.low[0], found.high[0]) == pytest.approx((0.385738, 0.861421), abs=1e-5)
    assert found.total == 10


@pytest.mark.parametrize(("a", "b"), [(0.5, 6), (1, 1), (1, 20), (3, 0.7), (60, 90)])
def test_beta_quantiles_agree_with_scipy(a, b):
    assert beta_quantiles(a, b, (0.1, 0.5, 0.9)) == pytest.approx(beta.ppf((0.1, 0.5, 0.9), a, b), abs=1e-5)


def test_no_counts_leave_the_prior():
    assert shares((0, 0, 0, 0)).mean == pytest.approx([0.25] * 4)


@pytest.mark.parametrize(("x", "a"), [((1, -1), (1, 1)), ((1, 1), (1, 0)), ((1, 1), (1,))])
def test_bad_counts_are_refused(x, a):
    with pytest.raises(BadCounts):
        chance_of_counts(x, a)
