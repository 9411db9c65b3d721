"""Grip and cue trials: their lengths, and the chance that a fault became rarer against drawn shares."""

import numpy as np
import pytest

from analysis.core.settings import layered
from analysis.core.trials.kinds import TrialKind, chance_fault_rarer, shape_of


def test_each_kind_has_its_own_length():
    style, grip, cue = (shape_of(kind, 150.0) for kind in (TrialKind.STYLE, TrialKind.GRIP, TrialKind.CUE))
    assert (style.weeks, grip.weeks, cue.weeks) == (12, 6, 4)
    assert (style.dips, grip.dips, cue.dips) == (True, True, False)
    assert shape_of(TrialKind.STYLE, 201.0).weeks == 16
    assert shape_of(TrialKind.CUE, settings=layered({"trial.cue_sessions": 3})).weeks == 2


@pytest.mark.parametrize("counts", [(5, 6, 1, 8), (2, 4, 2, 4), (0, 3, 3, 5)])
def test_chance_by_drawing_beta_shares(counts):
    rng = np.random.default_rng(1)
    (a, n, b, m), size = counts, 400_000
    before, after = rng.beta(a + 1, n - a + 1, size), rng.beta(b + 1, m - b + 1, size)
    assert chance_fault_rarer(*counts) == pytest.approx((after < before).mean(), abs=0.003)


def test_impossible_counts_are_refused():
    with pytest.raises(ValueError, match="3 faults in 2 sets"):
        chance_fault_rarer(3, 2, 0, 4)
