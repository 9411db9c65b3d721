"""Filling a body: the conditional normal, its errors and its warnings."""

import numpy as np
import pytest

from analysis.core.body.anthropometry import (
    MEASUREMENT_ERROR,
    VARIABLES,
    drawn_bodies,
    drillis_links,
    filled_body,
    population_bodies,
    reference,
    surprising,
)
from analysis.core.records.bodies import BodyInput
from analysis.core.records.plain import ImplausibleMeasurement, UnknownKey

MAN = BodyInput("m", {"stature": 1.78, "mass": 85.0})


@pytest.mark.parametrize(("sex", "stature", "span"), [("m", 1.75621, 1.81415), ("f", 1.62847, 1.66029)])
def test_means_are_those_of_ansur_ii(sex, stature, span):
    """Gordon et al. 2014: mean stature and arm span of 4,082 men and 1,986 women."""
    mean = reference(sex).mean
    assert mean[VARIABLES.index("stature")] == pytest.approx(stature)
    assert mean[VARIABLES.index("arm_span")] == pytest.approx(span)


@pytest.mark.parametrize("sex", ["m", "f"])
def test_covariances_are_symmetric_positive_and_match_the_printed_sd(sex):
    table = reference(sex).covariance
    np.testing.assert_allclose(table, table.T)
    assert np.linalg.eigvalsh(table).min() > 0
    sd = np.sqrt(np.diag(table))[VARIABLES.index("stature")]
    assert sd == pytest.approx({"m": 0.06855, "f": 0.06420}[sex], abs=2e-5)


def test_filling_agrees_with_the_precision_form_of_the_conditional_normal():
    """A second road: posterior precision = prior precision + H' R^-1 H (information form)."""
    measured = {"stature": 1.83, "arm_span": 1.88, "mass": 92.0}
    table = reference("m")
    rows = np.eye(len(VARIABLES))[[VARIABLES.index(key) for key in measured]]
    noise = np.diag([MEASUREMENT_ERROR[key] ** -2 for key in measured])
    precision = np.linalg.inv(table.covariance) + rows.T @ noise @ rows
    covariance = np.linalg.inv(precision)
    shift = np.array(list(measured.values())) - rows @ table.mean
    mean = table.mean + covariance @ rows.T @ noise @ shift
    filled = filled_body(BodyInput("m", measured))
    np.testing.assert_allclose([one.value for one in filled.measurements], mean, rtol=1e-6)
    np.testing.assert_allclose([one.sd for one in filled.measurements], np.sqrt(np.diag(covariance)), rtol=1e-5)


def test_an_average_man_of_178_has_the_arm_and_shank_of_the_reference():
    """ANSUR II regression on stature 1.78 m and 85 kg: arm 0.639 m, shank 0.403 m."""
    body = filled_body(MAN)
    assert body.link("arm").value == pytest.approx(0.639, abs=0.001)
    assert body.link("shank").value == pytest.approx(0.403, abs=0.001)


def test_a_measured_length_is_kept_and_its_spread_is_the_measurement_error():
    body = filled_body(BodyInput("f", {"stature": 1.65, "foot_length": 0.26}))
    foot = body.link("foot")
    assert foot.value == pytest.approx(0.26, abs=0.003)
    assert foot.sd <= MEASUREMENT_ERROR["foot_length"]
    assert foot.origin == "measured"
    assert body.link("thigh").origin == "estimated"


def test_more_measurements_narrow_every_link():
    few = filled_body(MAN)
    more = filled_body(
        BodyInput("m", {**MAN.measured_m, "sitting_height": 0.93, "arm_span": 1.84, "standing_grip_height": 0.78})
    )
    assert all(more.link(one.key).sd <= one.sd + 1e-12 for one in few.links)
    assert more.link("arm").sd < 0.7 * few.link("arm").sd


def test_a_lower_standing_grip_height_is_a_longer_arm():
    low, high = (
        filled_body(BodyInput("m", {**MAN.measured_m, "acromial_height": 1.46, "standing_grip_height": grip}))
        .link("arm")
        .value
        for grip in (0.75, 0.81)
    )
    # a measured grip height 6 cm lower: part of it is laid to measurement error and to the shoulder's height
    assert 0.04 < low - high < 0.06


def test_nothing_measured_is_the_average_body_of_the_sex():
    body = filled_body(BodyInput("f", {}))
    assert body.measurement("stature").value == pytest.approx(1.62847)


def test_draws_centre_on_the_filled_body_and_have_its_spread():
    bodies = drawn_bodies(MAN, 4000, seed=3)
    filled = filled_body(MAN)
    for key in ("arm", "thigh", "trunk"):
        draws = getattr(bodies, key)
        assert draws[0] == pytest.approx(filled.link(key).value)
        assert draws[1:].mean() == pytest.approx(filled.link(key).value, abs=1e-6)
        assert draws[1:].std() == pytest.approx(filled.link(key).sd, rel=0.05)


def test_the_same_seed_gives_the_same_draws():
    np.testing.assert_array_equal(drawn_bodies(MAN, 50, 7).arm, drawn_bodies(MAN, 50, 7).arm)
    assert (drawn_bodies(MAN, 50, 7).arm[1:] != drawn_bodies(MAN, 50, 8).arm[1:]).all()


@pytest.mark.parametrize("stature", [1.20, 1.35, 2.10, 2.30])
def test_statures_outside_the_table_still_work_with_a_warning(stature):
    body = filled_body(BodyInput("m", {"stature": stature}, age=30))
    assert all(one.value > 0 for one in body.links)
    assert any("outside what the reference table covers" in warning for warning in body.warnings)


def test_under_18_is_said():
    assert any("Under 18" in warning for warning in filled_body(BodyInput("f", {"stature": 1.6}, age=15)).warnings)
    assert filled_body(BodyInput("f", {"stature": 1.6}, age=25)).warnings == ()


def test_an_arm_length_given_as_arm_span_is_refused_by_name():
    with pytest.raises(ImplausibleMeasurement, match="arm_span: 74 cm is not between 91 and 290 cm"):
        filled_body(BodyInput("m", {"stature": 1.78, "arm_span": 0.74}))


def test_a_measurement_that_contradicts_the_others_is_asked_about():
    body = BodyInput("m", {"stature": 1.78, "sitting_height": 0.93, "foot_length": 0.27, "arm_span": 1.45})
    assert surprising(body) == ("arm_span",)
    assert any(warning.startswith("arm_span") for warning in filled_body(body).warnings)


@pytest.mark.parametrize("bad", [0.0, -1.78, float("nan"), float("inf"), 178.0])
def test_a_stature_that_cannot_be_is_refused(bad):
    with pytest.raises(ImplausibleMeasurement, match=r"^stature:"):
        filled_body(BodyInput("m", {"stature": bad}))


def test_heights_out_of_order_are_refused():
    with pytest.raises(ImplausibleMeasurement, match="trochanterion_height"):
        filled_body(BodyInput("m", {"trochanterion_height": 1.10, "acromial_height": 1.05}))


def test_unknown_names_are_refused():
    with pytest.raises(UnknownKey, match="femur"):
        filled_body(BodyInput("m", {"femur": 0.5}))
    with pytest.raises(UnknownKey, match="sex"):
        filled_body(BodyInput("x", {}))


def test_rough_shares_add_up_to_winters_heights():
    """Drillis and Contini in Winter: knee 0.285, hip 0.530, shoulder 0.818 of stature."""
    links = drillis_links(1.0)
    assert links["ankle"] + links["shank"] == pytest.approx(0.285)
    assert links["ankle"] + links["shank"] + links["thigh"] == pytest.approx(0.530)
    assert links["ankle"] + links["shank"] + links["thigh"] + links["trunk"] == pytest.approx(0.818)
    assert links["arm"] == pytest.approx(0.186 + 0.146 + 0.108 / 2)


def test_random_bodies_have_the_spread_of_the_table():
    bodies = population_bodies("f", 4000, 5)
    assert bodies.foot.std() == pytest.approx(0.01244, rel=0.05)
