"""Eight kinds of lifter as coaches meet them: the answer in meaning, and the numbers behind it by independent sums."""

from math import erf, exp, pi, sqrt

import pytest

from analysis.core.decision.answer import answer, worth_word
from analysis.core.records.decision import State, Word
from tests.core.decision.facts import ARCHETYPES


def codes(messages):
    return [m.code for m in messages]


@pytest.mark.parametrize(
    ("name", "state", "style", "tenths", "worth"),
    [
        ("A", State.OFFERED_TRIAL, "sumo", 6, "much"),
        ("B", State.KEEP, "conventional", 6, "some"),
        ("C", State.OFFERED_TRIAL, "sumo", 7, "much"),
        ("D", State.STANCE_OUT, "sumo", 6, "much"),
        ("E", State.OFFERED_TRIAL, "sumo", 6, "much"),
        ("G", State.MEET_AHEAD, "sumo", 7, "much"),
        ("H", State.KEEP, "conventional", 9, "little"),
    ],
)
def test_the_answer_of_each_kind(name, state, style, tenths, worth):
    found = answer(ARCHETYPES[name])
    assert found.state == state
    assert (found.lean.style, round(10 * found.lean.chance)) == (style, tenths)
    assert worth_word(found.lean.value) == worth


def test_a_the_two_rules_of_the_trade_and_the_build_stand_against_each_other():
    found = answer(ARCHETYPES["A"])
    assert "reason.legs-over-back" in codes(found.reasons_for)
    assert "reason.build-conventional" in codes(found.reasons_against)
    assert {"differ.long-arms", "differ.back-work"} <= set(codes(found.differ))
    assert (round(10 * found.lean.low), round(10 * found.lean.high)) == (4, 8)
    assert found.lean.word == Word.LEANING and "decision.old-kept" in codes(found.plan)


def test_d_offers_the_nearest_stance_without_pinch():
    found = answer(ARCHETYPES["D"])
    assert found.heading.values["width"].value == pytest.approx(0.80)
    assert found.lines[0].action.code == "wide.narrower"


def test_e_is_offered_for_soreness_not_for_kilos_and_keeps_no_old_style():
    found = answer(ARCHETYPES["E"])
    assert found.lean.chance < 0.60
    assert {"decision.sore-back", "decision.old-not-kept"} <= set(codes((*found.ground, *found.plan)))


def test_f_names_no_style():
    found = answer(ARCHETYPES["F"])
    assert found.state == State.BEGINNER and found.lean is None and not found.reasons_for


def test_h_own_results_outweigh_the_strength_reading():
    found = answer(ARCHETYPES["H"])
    assert found.lean.word == Word.VERY_LIKELY
    assert "reason.legs-over-back" in codes(found.reasons_for)
    assert "reason.own-results" in codes(found.reasons_against)


@pytest.mark.parametrize("name", ["A", "B", "C", "E", "H"])
def test_mean_sd_and_value_by_sums_written_out(name):
    """The same formulas with the standard library's error function and plain numbers."""
    facts = ARCHETYPES[name]
    left, build = facts.links.legs_over_back, facts.build.score if facts.build else 0.0
    quality = facts.build.reliability if facts.build else 0.0
    mean = 0.08 * (0.3 * left + 0.15 * build)
    variance = 0.0064 * (1 - 0.09 * 0.6 - 0.0225 * quality + 0.04 * left**2 + 0.0225 * build**2)
    for result in facts.results:
        share = variance / (variance + result.sd**2)
        mean, variance = mean + share * (result.difference - mean), variance * (1 - share)
    shift = 0.02 if facts.health.back_soreness else 0.0
    moved = variance / sqrt(variance + 0.027**2)
    z = (mean + shift) / moved
    value = (mean + shift) * 0.5 * (1 + erf(z / sqrt(2))) + moved * exp(-z * z / 2) / sqrt(2 * pi) - 0.005
    lean = answer(facts).lean
    assert (lean.mean, lean.sd, lean.value) == pytest.approx((mean, sqrt(variance), value), abs=1e-6)
