"""Sentences are written from numbers and ranges, never more surely than these allow."""

import numpy as np
import pytest

from analysis.core.leverages.findings import asked_setups, may_see_rounded, paired, rounding_story, stance_limits, story
from analysis.core.leverages.postures import range_postures
from analysis.core.leverages.report import leverage_report
from analysis.core.records.bodies import BodyInput
from analysis.core.records.lifts import LifterRecord
from analysis.core.records.pulls import Estimate, SetupInput
from analysis.core.records.wording import compared, degrees, joined, percent, range_words, span_words

PRESETS = {"conventional": 0.32, "sumo": 0.70, "wide-sumo": 0.95, "rounded": 0.32}
MAN = BodyInput("m", {"stature": 1.78, "mass": 85.0})


def centimetres(metres: float) -> str:
    return f"{metres * 100:.1f} cm"


def lifter(**fields) -> LifterRecord:
    given = {"key": "a", "sex": "f", "age": 30.0, "standing": "trained", "measurements_m": {}} | fields
    return LifterRecord(**given)


@pytest.fixture(scope="module")
def report():
    return leverage_report(MAN)


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [(0.36, 0.4, "36.0–40.0 cm"), (0.36, 0.36, "36.0 cm"), (0.3599, 0.3601, "36.0 cm")],
)
def test_a_span_names_its_unit_once(low, high, words):
    assert span_words(low, high, centimetres) == words


def test_a_value_stands_before_its_range():
    assert range_words(Estimate(0.38, 0.36, 0.40), centimetres) == "38.0 cm (36.0–40.0 cm)"


def test_small_words():
    assert (degrees(-0.2), percent(0.085), joined(["a", "b", "c"]), joined([])) == ("0°", "8\u00a0%", "a, b and c", "")


@pytest.mark.parametrize(
    ("estimate", "way"),
    [
        (Estimate(-0.04, -0.06, -0.02), -1),
        (Estimate(0.04, 0.02, 0.06), 1),
        (Estimate(0.04, -0.01, 0.09), 0),  # the range crosses nothing
        (Estimate(0.002, 0.001, 0.003), 0),  # too small to see
    ],
)
def test_a_difference_is_named_only_when_its_range_leaves_zero(estimate, way):
    assert compared(estimate, 0.005) == way


def test_paired_differences_are_sharper_than_the_overlap_of_two_ranges(report):
    """The same draws of the body stand in both styles: lengths unknown to both cancel."""
    flat, sumo = report.style("conventional"), report.style("sumo")
    change = paired(flat, sumo, "range_of_motion_m")
    apart = flat.range_of_motion_m.high - sumo.range_of_motion_m.low
    marginal = (flat.range_of_motion_m.high - flat.range_of_motion_m.low) + (
        sumo.range_of_motion_m.high - sumo.range_of_motion_m.low
    )
    assert change.high < 0.0 < apart
    assert change.high - change.low < 0.5 * marginal


def test_a_paired_value_is_the_difference_of_the_two_values(report):
    flat, sumo = report.style("conventional"), report.style("sumo")
    expected = sumo.lift_off["hip_bar_distance_m"].value - flat.lift_off["hip_bar_distance_m"].value
    assert paired(flat, sumo, "hip_bar_distance_m").value == pytest.approx(expected)


def test_the_numbers_of_a_sentence_are_this_bodys_numbers(report):
    flat, sumo = report.style("conventional"), report.style("sumo")
    told = story(flat, sumo, centimetres)
    change = paired(flat, sumo, "range_of_motion_m")
    assert f"{centimetres(abs(change.value))} (" in told.sentences[0]
    assert "shorter pull" in told.sentences[0]
    other = story(
        *leverage_report(BodyInput("f", {"stature": 1.55}), [SetupInput(), SetupInput("sumo")]).styles, centimetres
    )
    assert other.sentences != told.sentences


def test_a_style_against_itself_is_about_the_same_in_everything(report):
    flat = report.style("conventional")
    told = story(flat, flat, centimetres)
    assert len(told.sentences) == 1
    assert told.sentences[0].startswith("About the same: ")


def test_what_cannot_be_told_apart_is_not_named_and_what_would_tell_is():
    """Two bodies known by stature alone: their own draws are independent, so a small difference is not one."""
    first = leverage_report(BodyInput("m", {"stature": 1.78}), [SetupInput(name="one")], seed=0).styles[0]
    second = leverage_report(BodyInput("m", {"stature": 1.785}), [SetupInput(name="two")], seed=1).styles[0]
    told = story(first, second, centimetres)
    assert told.sentences == (told.sentences[0],)
    assert told.sentences[0].startswith("How a lifter stands decides, so measure stance and toes: length of the pull")
    assert all(d.direction == 0 and d.unsure for d in told.differences)


def test_moments_are_left_out_when_they_would_tell_a_mass(report):
    told = story(report.style("conventional"), report.style("sumo"), centimetres, demands=False)
    assert all("%" not in line for line in told.sentences)


def test_no_sentence_recommends_or_predicts(report):
    """Words that would turn a description into advice or a forecast never appear."""
    flat = report.style("conventional")
    lines = [line for s in report.styles[1:] for line in story(flat, s, centimetres).sentences]
    lines += rounding_story(flat, report.style("rounded"), centimetres).sentences
    text = " ".join(lines).lower()
    assert not [word for word in ("better", "best", "should", "stronger", "you will", "more weight") if word in text]
    assert "not as something to choose" in text


@pytest.mark.parametrize(
    ("fields", "seen"),
    [
        ({}, True),
        ({"standing": "beginner"}, False),
        ({"standing": "under-18", "age": None}, False),
        ({"age": 17.0}, False),
        ({"back_pain_noted": True}, False),
        ({"standing": "returning"}, True),
    ],
)
def test_rounding_is_explained_only_to_grown_trained_lifters_without_a_back_note(fields, seen):
    assert may_see_rounded(lifter(**fields)) is seen


def test_the_tightest_bound_comes_first_and_says_why():
    limits = stance_limits(lifter(comfortable_stance_m=0.75, hip_pinch=True), 1.2)
    assert [round(limit.widest_m, 3) for limit in limits] == [0.75, 1.2]
    assert "pinched" in limits[0].reason


def test_a_wide_stance_is_pulled_in_and_left_out_when_it_becomes_another_style():
    someone = lifter(comfortable_stance_m=0.75, comfortable_turnout_rad=0.5)
    setups, left_out = asked_setups(someone, PRESETS, stance_limits(someone, 1.2))
    assert [s.preset for s in setups] == ["conventional", "sumo", "rounded"]
    assert left_out == ["wide-sumo"]
    middling = lifter(comfortable_stance_m=0.85, comfortable_turnout_rad=0.5)
    setups, _ = asked_setups(middling, PRESETS, stance_limits(middling, 1.2))
    wide = next(s for s in setups if s.preset == "wide-sumo")
    assert (wide.stance_m, wide.turnout_rad) == (0.85, 0.5)


def test_every_stance_stays_inside_the_bounds_for_many_lifters():
    rng = np.random.default_rng(7)
    for stance in rng.uniform(0.2, 1.4, 200):
        someone = lifter(comfortable_stance_m=float(stance))
        setups, _ = asked_setups(someone, PRESETS, stance_limits(someone, 1.2))
        drawn = [PRESETS[s.preset] if s.stance_m is None else s.stance_m for s in setups]
        assert max(drawn) <= min(stance, 1.2) + 1e-9


def test_the_ghosts_stand_at_the_ends_of_the_range(report):
    """The two bodies drawn as ghosts have the hip-to-bar distances that bound the 80 % range."""
    found = range_postures(MAN, report)
    for style in report.styles:
        near, far = (joints["hand"][0] - joints["hip"][0] for joints in found[style.name])
        told = style.lift_off["hip_bar_distance_m"]
        assert near == pytest.approx(told.low, abs=0.003)
        assert far == pytest.approx(told.high, abs=0.003)
