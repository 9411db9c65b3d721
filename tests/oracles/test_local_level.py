"""The Kalman filter against the Nile series as published and against statsmodels."""

import numpy as np
import pytest
import statsmodels.api as sm

from analysis.core.estimates.local_level import filter_level, fit_variances, smooth_level

NILE_NOISE, NILE_STEP = 15099.0, 1469.1  # Durbin and Koopman 2012, section 2.10.3


@pytest.fixture(scope="module")
def nile():
    return sm.datasets.nile.load_pandas().data["volume"].to_numpy(float)


def test_nile_variances_are_those_published_by_durbin_and_koopman(nile):
    noise, step = fit_variances(nile)
    assert noise == pytest.approx(NILE_NOISE, abs=1.0)
    assert step == pytest.approx(NILE_STEP, abs=0.2)


def test_nile_filtered_levels_and_variances(nile):
    filtered = filter_level(nile, NILE_NOISE, NILE_STEP)
    assert filtered.mean[:3] == pytest.approx([1120.000, 1140.928, 1072.799], abs=5e-4)
    assert filtered.var[:3] == pytest.approx([15099.0, 7899.74, 5781.47], abs=5e-3)


def test_nile_smoothed_levels(nile):
    mean, var = smooth_level(filter_level(nile, NILE_NOISE, NILE_STEP), NILE_STEP)
    assert mean[:3] == pytest.approx([1111.668, 1110.858, 1105.266], abs=5e-4)
    assert mean[-1] == pytest.approx(798.370, abs=5e-4)
    assert np.all(var <= filter_level(nile, NILE_NOISE, NILE_STEP).var + 1e-9)


def test_filter_smoother_and_likelihood_agree_with_statsmodels(nile):
    model = sm.tsa.UnobservedComponents(nile, "local level", use_exact_diffuse=True)
    oracle = model.smooth([NILE_NOISE, NILE_STEP])
    filtered = filter_level(nile, NILE_NOISE, NILE_STEP)
    mean, var = smooth_level(filtered, NILE_STEP)
    assert filtered.mean == pytest.approx(oracle.filtered_state[0], abs=1e-6)
    assert mean == pytest.approx(oracle.smoothed_state[0], abs=1e-6)
    assert var == pytest.approx(oracle.smoothed_state_cov[0, 0], abs=1e-5)
    first_value = 0.5 * np.log(2 * np.pi)  # the constant of the diffuse first value, left out here
    assert filtered.log_likelihood == pytest.approx(oracle.llf + first_value, abs=1e-6)


def test_missing_values_agree_with_statsmodels(nile):
    holed = nile.copy()
    holed[[5, 6, 7, 40, 99]] = np.nan
    oracle = sm.tsa.UnobservedComponents(holed, "local level", use_exact_diffuse=True).smooth([NILE_NOISE, NILE_STEP])
    filtered = filter_level(holed, NILE_NOISE, NILE_STEP)
    assert filtered.mean == pytest.approx(oracle.filtered_state[0], abs=1e-6)
    assert smooth_level(filtered, NILE_STEP)[0] == pytest.approx(oracle.smoothed_state[0], abs=1e-6)
