"""Published formulas against printed values, and what a set says or does not say."""

import numpy as np
import pytest

from analysis.core.estimates.one_rep_max import FORMULAS, estimate, set_estimate, set_estimates
from analysis.core.records.plain import UnknownKey
from analysis.core.settings import layered
from tests.core.logbook import missed, pull

# Single from 200 kg at 1, 5 and 10 reps to failure, worked from the printed formulas
WORKED = {
    "epley": (206.67, 233.33, 266.67),
    "brzycki": (200.00, 225.00, 266.67),
    "lombardi": (200.00, 234.92, 251.79),
    "mayhew": (217.73, 238.02, 261.87),
    "wathan": (202.61, 233.17, 269.49),
}
# NSCA training load chart: reps to failure -> % of the single
LOAD_CHART = {1: 100, 2: 95, 3: 93, 4: 90, 5: 87, 6: 85, 7: 83, 8: 80, 9: 77, 10: 75}


@pytest.mark.parametrize("name", FORMULAS)
def test_formulas_give_the_worked_values(name):
    assert estimate(200, [1, 5, 10], name) == pytest.approx(WORKED[name], abs=0.005)
    assert FORMULAS[name].source


def test_epley_and_brzycki_cross_at_ten_reps_exactly():
    assert estimate(150, 10, "epley") == pytest.approx(estimate(150, 10, "brzycki"), abs=1e-12)
    assert estimate(150, 10) == pytest.approx(200.0, abs=1e-12)


def test_only_brzycki_and_lombardi_return_the_load_at_one_rep():
    same = {n for n in FORMULAS if estimate(100, 1, n) == pytest.approx(100)}
    assert same == {"brzycki", "lombardi"}


@pytest.mark.parametrize("reps", [r for r in LOAD_CHART if r > 1])
def test_the_default_follows_the_load_chart_within_one_point(reps):
    assert 100 * 100 / estimate(100, reps) == pytest.approx(LOAD_CHART[reps], abs=1.0)


def test_the_default_is_nearer_the_chart_than_any_single_formula():
    reps = np.array([r for r in LOAD_CHART if r > 1])
    chart = np.array([LOAD_CHART[r] for r in reps])
    worst = {n: np.abs(1e4 / estimate(100, reps, n) - chart).max() for n in [*FORMULAS, "epley-brzycki"]}
    assert min(worst, key=worst.get) == "epley-brzycki"


def test_an_unknown_formula_is_refused():
    with pytest.raises(UnknownKey, match="astrology"):
        estimate(100, 3, "astrology")


def test_reps_in_reserve_add_to_reps():
    """A triple at RPE 8 is five reps to failure (Zourdos et al. 2016)."""
    found = set_estimate(pull(0, 180, 3, 8))
    assert found.estimate_kg == pytest.approx(float(estimate(180, 5)))
    assert found.used and not found.is_single


def test_a_range_of_reserve_keeps_its_width():
    narrow = pull(0, 180, 3, 8)
    wide = pull(0, 180, 3)
    wide = type(wide)(**{f: getattr(wide, f) for f in wide.__slots__} | {"rir_low": 1.0, "rir_high": 3.0})
    a, b = set_estimate(narrow), set_estimate(wide)
    assert a.estimate_kg == pytest.approx(b.estimate_kg)
    assert (b.reps_low, b.reps_high) == (4, 6)
    assert b.high_kg - b.low_kg > a.high_kg - a.low_kg


def test_a_single_with_nothing_left_is_itself():
    for rpe in (9.5, 10):
        found = set_estimate(pull(0, 212.5, 1, rpe))
        assert found.estimate_kg == 212.5 and found.is_single


def test_a_single_with_one_left_is_an_estimate_above_its_load():
    found = set_estimate(pull(0, 200, 1, 9))
    assert found.estimate_kg == pytest.approx(float(estimate(200, 2))) and not found.is_single


def test_a_single_just_below_a_miss_of_the_same_day_had_nothing_left():
    sets = [pull(0, 200), missed(0, 207.5), pull(7, 200), missed(7, 230), pull(9, 200)]
    assert [e.is_single for e in set_estimates(sets)] == [True, False, False, False, False]


@pytest.mark.parametrize(
    ("kg", "spent"), [(199.5, False), (200.0, False), (200.5, True), (210.0, True), (210.5, False)]
)
def test_only_a_miss_with_more_on_the_bar_shows_that_nothing_was_left(kg, spent):
    """A miss at the same load may come from the single itself; one over 5 % heavier says nothing of it."""
    assert set_estimates([pull(0, 200.0), missed(0, kg)])[0].is_single is spent


@pytest.mark.parametrize(
    ("one", "words"),
    [
        (pull(0, 150, 8, 8), "over 8 reps"),
        (pull(0, 120, 12, 10), "over 8 reps"),
        (pull(0, 150, 2, 6), "RPE under 7"),
        (missed(0, 220), "misses enter neither"),
        (pull(0, 220, 1, result="no-lift"), "misses enter neither"),
        (pull(0, 220, 1, result="stopped-pain"), "misses enter neither"),
    ],
)
def test_a_set_that_is_not_used_says_why(one, words):
    found = set_estimate(one)
    assert not found.used and words in found.reason and found.estimate_kg == 0


def test_spread_grows_with_reps_and_is_a_setting():
    spreads = [set_estimate(pull(0, 150, reps, 10)).sd_log for reps in (2, 5, 8)]
    assert spreads == sorted(spreads) and spreads[0] < spreads[2]
    wide = layered({"best.spread_1_3": 0.10})
    assert set_estimate(pull(0, 150, 2, 10), wide).sd_log > 2 * spreads[0]


def test_effort_that_was_not_noted_is_assumed_and_the_assumption_is_shown():
    found = set_estimate(pull(0, 150, 3))
    assert found.used and "not noted" in found.reason
    assert (found.reps_low, found.reps_high) == (3, 6)
