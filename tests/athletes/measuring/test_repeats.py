"""Technical error of measurement against an independent road, and when a third reading is asked for."""

import numpy as np
import pytest

from analysis.core.body.anthropometry import VARIABLES, reference
from athletes.measuring.repeats import Repeats, repeat_question, technical_error
from athletes.models.choices import MeasureKey as Key
from athletes.schema.measurements import MEASUREMENTS


def test_tem_of_pairs_is_the_within_person_standard_deviation():
    # one-way analysis of variance: for two readings each, TEM is the root of the within-person mean square
    rng = np.random.default_rng(5)
    readings = rng.normal(175, 7, (40, 1)) + rng.normal(0, 0.6, (40, 2))
    within = readings - readings.mean(axis=1, keepdims=True)
    assert technical_error(readings.tolist()) == pytest.approx(np.sqrt((within**2).sum() / 40))


def test_tem_of_one_person_read_twice_is_the_difference_over_root_two():
    assert Repeats(Key.STATURE, (178.0, 179.0)).tem == pytest.approx(1 / np.sqrt(2))
    assert Repeats(Key.STATURE, (178.0,)).tem is None


def test_tem_of_three_readings_is_their_standard_deviation():
    values = (45.1, 45.9, 44.8)
    assert Repeats(Key.TIBIALE_HEIGHT, values).tem == pytest.approx(np.std(values, ddof=1))


def test_the_accepted_difference_is_277_tem_of_one_percent():
    # 420 mm: limits 11.6 mm at 1.0 % (1.96 * sqrt(2) * 4.2 mm), from the acceptable TEM of Perini et al. 2005
    assert Repeats(Key.TIBIALE_HEIGHT, (42.0,)).widest_accepted == pytest.approx(1.96 * np.sqrt(2) * 0.42, abs=0.003)


def test_only_readings_further_apart_than_that_ask_for_another():
    assert repeat_question(Repeats(Key.SITTING_HEIGHT, (90.0, 92.4))) == ""
    asked = repeat_question(Repeats(Key.SITTING_HEIGHT, (90.0, 92.8)))
    assert asked == (
        "The readings of sitting height differ by 2.8 cm; careful measuring stays within 2.5 cm. "
        "Find the place anew and measure a third time."
    )


def test_a_third_reading_near_one_of_two_settles_it():
    assert repeat_question(Repeats(Key.SITTING_HEIGHT, (90.0, 93.0, 90.4))) == ""
    assert repeat_question(Repeats(Key.SITTING_HEIGHT, (90.0, 93.0, 96.0))).endswith("measure again.")


def test_short_lengths_are_not_asked_closer_than_a_tape_reads():
    assert repeat_question(Repeats(Key.LATERAL_MALLEOLUS_HEIGHT, (7.0, 7.5))) == ""


def test_body_mass_is_never_asked_for_twice():
    assert repeat_question(Repeats(Key.MASS, (80.0, 90.0))) == ""


@pytest.mark.parametrize("sex", ["m", "f"])
def test_the_shares_agree_with_the_covariances_of_the_survey(sex):
    # ANSUR II covariances as kept for the mechanics; ratio spread to first order
    people = reference(sex)
    names, mean, cov = list(VARIABLES), people.mean, people.covariance
    s = names.index("stature")
    for key, share in ((one.key, one.shares[sex]) for one in MEASUREMENTS if one.shares):
        k = names.index(key)
        ratio = mean[k] / mean[s]
        spread = np.sqrt(cov[k, k] - 2 * ratio * cov[k, s] + ratio**2 * cov[s, s]) / mean[s]
        assert share.mean == pytest.approx(ratio, rel=0.005), key
        assert share.sd == pytest.approx(spread, rel=0.05), key
