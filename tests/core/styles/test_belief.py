"""The belief about style: exact sums, the cap of words, the span, and honesty over simulated lifters."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from analysis.core.records.decision import BuildScore, LinkPosterior, StyleResult, Word
from analysis.core.settings import DEFAULTS
from analysis.core.styles.belief import belief, lean_of, trial_value, word_of
from tests.benchmarks.calibrate_style import SQUADS, TRUTHS, honesty, shares

scores = st.floats(-3, 3)


@given(scores, scores, st.floats(0, 1), st.floats(-0.2, 0.2), st.floats(0.005, 0.2))
def test_the_span_holds_the_chance_and_words_stay_under_their_cap(left, build, rho, seen, sd):
    links, shape = LinkPosterior(left, rho), BuildScore(build, 0.5)
    lean = lean_of("sumo", "conventional", links, shape)
    assert lean.low <= lean.chance <= lean.high
    assert lean.chance <= 0.70 and lean.word in (Word.LEANING, Word.OPEN)
    own = lean_of("sumo", "conventional", links, shape, (StyleResult(seen, sd),))
    assert own.sd < lean.sd and own.chance <= 0.9


@given(scores, scores)
def test_the_other_direction_mirrors(left, build):
    links, shape = LinkPosterior(left, 0.6), BuildScore(build, 0.5)
    there = lean_of("sumo", "conventional", links, shape)
    back = lean_of("conventional", "sumo", links, shape)
    assert there.style == back.style or "" in (there.style, back.style)
    assert there.mean == pytest.approx(-back.mean) and there.sd == back.sd


@pytest.mark.parametrize(
    ("chance", "word"),
    [(0.85, Word.VERY_LIKELY), (0.849, Word.LIKELY), (0.65, Word.LIKELY), (0.649, Word.LEANING), (0.55, Word.LEANING),
     (0.549, Word.OPEN)],
)  # fmt: skip
def test_one_scale_of_words(chance, word):
    assert word_of(chance) == word


def test_nothing_known_is_open_with_the_spread_between_lifters():
    assert belief(None, None) == pytest.approx((0.0, DEFAULTS["style.spread"]))
    assert lean_of("sumo", "conventional", None, None).word == Word.OPEN


def test_value_of_a_trial_by_drawing_trials():
    """Draw truth and trial (error 2.7 %), adopt when the mean after it is above 0: mean gain less the cost."""
    rng = np.random.default_rng(5)
    true = rng.normal(0.02, 0.08, 400_000)
    seen = true + rng.normal(0, 0.027, true.size)
    share = 0.08**2 / (0.08**2 + 0.027**2)
    after = 0.02 + share * (seen - 0.02)
    assert float(trial_value(0.02, 0.08)) == pytest.approx(np.where(after > 0, true, 0).mean() - 0.005, abs=3e-4)


def test_what_is_said_is_right_as_often_as_stated_in_the_assumed_world():
    said, stated, right, cover, _ = honesty(TRUTHS[0], 50_000, np.random.default_rng(1))
    assert abs(stated - right) <= 0.03 and 0.78 <= cover <= 0.82 and 0.2 < said < 0.5


def test_ranges_cover_in_wrong_worlds():
    for number, truth in enumerate(TRUTHS[1:]):
        assert 0.75 <= honesty(truth, 50_000, np.random.default_rng(number))[3] <= 0.85


@pytest.mark.parametrize("squad", SQUADS, ids=lambda s: s.name)
def test_one_to_four_lifters_of_ten_are_told_to_try(squad):
    assert 0.10 <= shares(squad, 500, np.random.default_rng(2))["offered-trial"] <= 0.40
