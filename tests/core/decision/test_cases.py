"""Situations coaches and lifters bring, with people and loads changed: what the one answer must say.

| case | situation | what the tool says |
|---|---|---|
| S01 | one sumo day in eights, about equal | no own results yet: at most "leaning", with its span |
| S02 | build points to conventional, early gain in sumo | build alone never sure; no trained level, no result |
| S05 | sharp pain in a trial session | stop the trial; others read a trial on course |
| S07 | back sore each week, conventional only | a trial for the back, not called better in kilos |
| S15 | torso length of one SD | moves the chance by less than one in ten |
| S18 | rounds on purpose, junior | technique first; nothing about rounding |
| S21b | opener missed at 92 % | same load or more, with a lower chance than before |
| E1 | lockout misses, rounded from 94 % | start flatter before any lockout work or switch |
| E2 | 1.6 % less after twelve weeks, soreness 5 to 2 | goal kilos: not adopted; goal soreness: adopted |
"""

from dataclasses import replace
from math import log

from analysis.core.decision.answer import answer, answers
from analysis.core.meets.live import belief_of, next_call
from analysis.core.meets.tree import Result
from analysis.core.records.decision import BackShape, BuildScore, HealthFacts, State, Word
from analysis.core.styles.belief import lean_of
from tests.core.decision.facts import ONE_FOR_EACH_STATE, RUNNING, TRIAL, facts, links


def test_s01_equal_eights_on_one_day_are_no_result():
    found = answer(facts(links=links(0.4)))
    assert found.lean.word in (Word.LEANING, Word.OPEN) and found.lean.low < 0.5 < found.lean.high


def test_s02_build_against_sumo_is_never_sure():
    found = answer(facts(build=BuildScore(-1.5, 0.5)))
    assert found.state == State.KEEP and found.lean.chance <= 0.7
    assert found.reasons_against[0].code == "reason.build-conventional"


def test_s05_pain_in_a_trial_session_stops_it_and_others_read_no_pain():
    own, shown = answers(facts(trial=replace(RUNNING, pain=True)))
    assert (own.state, shown.state) == (State.TRIAL_PAIN, State.TRIAL_ON_COURSE)


def test_s07_a_back_sore_each_week():
    found = answer(facts(health=HealthFacts(back_soreness=6.0)))
    assert found.state == State.OFFERED_TRIAL and found.lean.word == Word.OPEN
    assert answer(facts(health=HealthFacts(back_soreness=4.0))).state == State.KEEP


def test_s15_one_sd_of_build_moves_the_chance_by_less_than_one_in_ten():
    assert abs(lean_of("sumo", "conventional", None, BuildScore(1.0, 1.0)).chance - 0.5) < 0.1


def test_s18_nothing_about_rounding_to_a_junior():
    young = replace(ONE_FOR_EACH_STATE[State.START_FLATTER], age=16.0)
    assert answer(young).state == State.UNDER_18 and answer(young).lines == ()


def test_s21b_the_repeat_carries_the_miss():
    before = belief_of(log(278.0), 0.04)
    missed = next_call(before, (), (Result(255.0, False),))
    assert missed.load_kg >= 255.0 and missed.chance < float(before.chance(log(255.0)))


def test_e1_lockout_misses_with_a_round_back():
    shape = BackShape(6, 4, 170.0, 167.5, 180.0)
    case = facts(links=links(0.0, back=0.72, name="back", lockout_round_misses=3), back=shape)
    found = answer(case)
    assert found.state == State.START_FLATTER
    assert "differ.round-lockout" in [m.code for m in found.differ]


def test_e2_a_little_less_but_far_less_sore():
    close = replace(TRIAL, gain=0.004, loss=0.018, chance_better=0.22, chance_not_worse=0.80, easier=True)
    assert answer(facts(trial=close)).state == State.DUE_BACK
    assert answer(facts(trial=replace(close, success="soreness"))).state == State.DUE_ADOPT
