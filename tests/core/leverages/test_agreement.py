"""Repeats of a stance by two people: as far apart as the stated errors say, and pairs that are none left out."""

import math
from datetime import date, timedelta

import numpy as np
import pytest

from analysis.core.leverages.agreement import agreement
from athletes.schema.postures import PostureNote

DAY = date(2026, 3, 1)


def note(heels=0.60, toes=None, days=0, **more):
    given = {"style": "sumo", "day": DAY + timedelta(days=days), "source": "tape"} | more
    return PostureNote(**given, heels_m=heels, turnout_deg=toes)


def measured(times: float, lifters: int = 400):
    rng = np.random.default_rng(11)
    return [
        [(who, note(0.60 + times * 0.02 * rng.standard_normal(), 40 + times * 5 * rng.standard_normal()))
         for who in (1, 2)]
        for _ in range(lifters)
    ]  # fmt: skip


@pytest.mark.parametrize(("times", "share", "rms"), [(1.0, 0.806, 1.0), (2.0, 0.484, 2.0)])
def test_the_share_is_that_of_a_normal_error_of_its_size(times, share, rms):
    """800 differences: standard error of the share 0.014 to 0.018, of the rms 2.5 %."""
    found = agreement(measured(times))
    assert (found.lifters, found.differences, found.enough) == (400, 800, True)
    assert found.share == pytest.approx(share, abs=0.05) and found.rms == pytest.approx(rms, rel=0.08)


@pytest.mark.parametrize(
    ("other", "compared"),
    [
        ((2, note(0.62)), 1),
        ((2, note(0.62, days=30)), 1),
        ((2, note(0.62, days=31)), 0),
        ((1, note(0.62)), 0),
        ((2, note(0.62, style="conventional")), 0),
        ((2, note(None, 40.0)), 0),
    ],
)
def test_only_two_people_close_in_time_and_in_one_style_are_a_pair(other, compared):
    found = agreement([[(1, note(0.60)), other]])
    assert found.differences == compared and found.lifters == compared and not found.enough


def test_a_difference_counts_in_the_errors_of_both():
    taped = agreement([[(1, note(0.60)), (2, note(0.64))]])
    judged = agreement([[(1, note(0.60)), (2, note(0.64, source="eye"))]])
    assert taped.rms == pytest.approx(0.04 / math.hypot(0.02, 0.02)) and taped.share == 0.0
    assert judged.rms == pytest.approx(0.04 / math.hypot(0.02, 0.06)) and judged.share == 1.0


@pytest.mark.parametrize(("lifters", "enough"), [(9, False), (10, True)])
def test_ten_lifters_are_enough(lifters, enough):
    assert agreement(measured(1.0, lifters)).enough is enough
