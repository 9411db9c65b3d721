"""The Kalman filter against a plain Bayesian calculation; the Nile series and statsmodels stand in tests/oracles."""

from math import log, pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from analysis.core.estimates.local_level import Series, filter_level, filter_together, smooth_level


def test_unequal_gaps_are_unequal_steps():
    """A gap of nine days is the same as nine steps, eight of them without a value."""
    every_day = np.full(10, np.nan)
    every_day[[0, 9]] = 5.0, 5.3
    daily = filter_level(every_day, 0.01, 0.002)
    jumped = filter_level([5.0, 5.3], 0.01, [0.0, 9 * 0.002])
    assert jumped.mean[-1] == pytest.approx(daily.mean[-1])
    assert jumped.var[-1] == pytest.approx(daily.var[-1])


def test_many_series_at_once_equal_one_by_one():
    rng = np.random.default_rng(3)
    values = rng.normal(size=(4, 30))
    values[1, 4] = np.nan
    steps = rng.uniform(0, 0.1, size=(4, 30))
    together = filter_level(values, 0.2, steps)
    for row in range(4):
        alone = filter_level(values[row], 0.2, steps[row])
        assert together.mean[row] == pytest.approx(alone.mean)
        assert together.log_likelihood[row] == pytest.approx(alone.log_likelihood)


def test_before_any_value_nothing_is_known():
    filtered = filter_level([np.nan, np.nan, 3.0], 1.0, 1.0)
    assert np.isnan(filtered.mean[0]) and np.isinf(filtered.var[0])
    assert filtered.mean[2] == 3.0 and filtered.var[2] == 1.0
    assert smooth_level(filtered, 1.0)[0] == pytest.approx([3.0, 3.0, 3.0])
    assert smooth_level(filtered, 1.0)[1] == pytest.approx([3.0, 2.0, 1.0])


def plainly(values, noise_var, step_var):
    """The recursions of one series, value by value: what the faster ways must come to."""
    level, spread, log_likelihood = values[0], noise_var[0], 0.0
    means, variances = [level], [spread]
    for y, noise, step in zip(values[1:], noise_var[1:], step_var[1:], strict=True):
        spread += step
        total, error = spread + noise, y - level
        level += spread / total * error
        spread *= noise / total
        log_likelihood -= 0.5 * (log(2.0 * pi) + log(total) + error * error / total)
        means.append(level)
        variances.append(spread)
    return means, variances, log_likelihood


def drawn(rng, count):
    return rng.normal(size=count).tolist(), rng.uniform(0.1, 1, count).tolist(), rng.uniform(0, 0.3, count)


def test_the_general_filter_is_the_plain_one_of_each_series():
    values, noise, steps = drawn(np.random.default_rng(6), 40)
    mean, var, likelihood = plainly(values, noise, steps.tolist())
    general = filter_level(values, noise, steps)
    assert mean == pytest.approx(general.mean)
    assert var == pytest.approx(general.var)
    assert likelihood == pytest.approx(float(general.log_likelihood))


@given(st.lists(st.integers(1, 30), min_size=1, max_size=6), st.integers(1, 4), st.integers(0, 1000))
def test_series_of_any_lengths_filtered_together_are_number_for_number_the_plain_ones(lengths, ways, seed):
    rng = np.random.default_rng(seed)
    drifts = rng.uniform(0.1, 2.0, ways)
    rows = [drawn(rng, count) for count in lengths]
    found = filter_together([Series(y, noise, drifts[:, None] * steps) for y, noise, steps in rows])
    for (y, noise, steps), one in zip(rows, found, strict=True):
        for way, drift in enumerate(drifts):
            mean, var, likelihood = plainly(y, noise, (drift * steps).tolist())
            assert one.mean[way].tolist() == mean and one.var[way].tolist() == var
            assert one.log_likelihood[way] == pytest.approx(likelihood)


@given(st.integers(2, 30), st.data())
def test_a_series_that_goes_on_is_number_for_number_the_whole_one(count, data):
    cut = data.draw(st.integers(1, count - 1))
    y, noise, steps = drawn(np.random.default_rng(count), count)
    steps = np.array([0.5, 1.0, 2.0])[:, None] * steps
    (whole,) = filter_together([Series(y, noise, steps)])
    (gone_on,) = filter_together([Series(y[cut:], noise[cut:], steps[:, cut:], whole.until(cut))])
    for name in ("mean", "var", "gained"):
        assert np.array_equal(getattr(whole, name), getattr(gone_on, name))
