"""The bending bar; SymPy's beam is its oracle in tests/oracles."""

import numpy as np
import pytest

from analysis.core.pull.bar import BAR_PRESETS, carried_load, overhang, rise_of_hands


def test_rise_goes_with_the_fourth_power_of_the_diameter():
    thick, thin = (rise_of_hands(200.0, 0.55, d, 1.31) for d in (0.029, 0.027))
    assert thin / thick == pytest.approx((29 / 27) ** 4)


@pytest.mark.parametrize(("preset", "low", "high"), [("stiff", 8, 15), ("flexible", 15, 26)])
def test_rise_at_200_kg_lies_in_the_band_of_beam_theory(preset, low, high):
    bar = BAR_PRESETS[preset]
    assert low <= 1000 * rise_of_hands(200.0, 0.55, bar.diameter_m, bar.span_m) <= high


def test_narrower_hands_bend_the_bar_more():
    """Sumo's 0.47 m against 0.55 m adds about 9-11 % (beam theory)."""
    ratio = rise_of_hands(200.0, 0.47, 0.029, 1.31) / rise_of_hands(200.0, 0.55, 0.029, 1.31)
    assert 1.07 < ratio < 1.13


def test_no_load_bends_nothing():
    assert rise_of_hands(0.0, 0.55, 0.029, 1.31) == 0.0
    assert overhang(20.0, 0.55, 1.31) == pytest.approx(0.38)


def test_the_load_comes_on_evenly_over_the_rise():
    np.testing.assert_allclose(
        carried_load(200.0, 0.02, np.array([-0.01, 0.0, 0.005, 0.02, 0.3])), [0.0, 0.0, 50.0, 200.0, 200.0]
    )
    np.testing.assert_allclose(carried_load(200.0, 0.0, np.array([0.0, 0.1])), 200.0)
