"""Every state is reached by a small invented record, and reads as it should; health never reaches other readers."""

import string
from dataclasses import fields, is_dataclass, replace
from datetime import date, timedelta

import pytest

from analysis.core.decision.answer import answer, answers
from analysis.core.decision.days import working_day
from analysis.core.decision.states import trial_weeks
from analysis.core.records.decision import HEALTH_STATES, ActionKind, HealthFacts, Stance, State
from analysis.core.records.messages import Message, Private
from analysis.core.settings import layered
from analysis.text.decision import HEADINGS, PRIVATE, TEXTS
from tests.core.decision.facts import DAY, ONE_FOR_EACH_STATE, RUNNING, TRIAL, facts, links


def messages_in(value):
    """Every message inside an answer."""
    if isinstance(value, Message):
        return [value]
    if isinstance(value, tuple):
        return [m for inner in value for m in messages_in(inner)]
    if is_dataclass(value):
        return [m for f in fields(value) for m in messages_in(getattr(value, f.name))]
    return []


def test_the_table_names_every_state_once():
    assert set(ONE_FOR_EACH_STATE) == set(State) == set(HEADINGS)


@pytest.mark.parametrize("state", list(State))
def test_each_state_is_reached_with_words_for_every_message(state):
    found = answer(ONE_FOR_EACH_STATE[state])
    assert found.state == state
    for message in messages_in(found):
        places = {name for _, name, _, _ in string.Formatter().parse(TEXTS[message.code]) if name}
        # The athlete's name comes with the reader, not with the message.
        assert places - {"name"} <= set(message.values), (message.code, places)
        assert PRIVATE.get(message.code, frozenset()) <= message.needs, message.code


@pytest.mark.parametrize("state", list(State))
def test_headings_and_grounds_are_short(state):
    heading, ground, _ = HEADINGS[state]
    assert len(heading.split()) <= 12 and len(ground.split()) <= 22


@pytest.mark.parametrize("state", list(State))
def test_readers_without_health_get_the_next_state_that_needs_none(state):
    own, shown = answers(ONE_FOR_EACH_STATE[state])
    assert shown.state not in HEALTH_STATES
    assert not any(m.needs for m in messages_in(shown))
    if state not in HEALTH_STATES:
        assert shown.state == own.state


def test_two_lifters_who_differ_only_in_health_look_alike_to_those_readers():
    base = facts(links=links(1.0), stances=(Stance(0.85, tried=True),))
    hurt = replace(
        base,
        health=HealthFacts(pain=True, back_note=True, back_soreness=7.0, pinch=True),
        stances=(Stance(0.85, tried=True, pinches=True),),
    )
    assert answers(hurt)[1] == answers(base)[1]
    assert answers(hurt)[0].private == frozenset((Private.HEALTH,))


def test_gates_stand_in_their_order():
    """Pain before age before learning before a meet before a pinch before a trial."""
    case = replace(
        ONE_FOR_EACH_STATE[State.OFFERED_TRIAL],
        health=HealthFacts(pain=True, pinch=True),
        age=16.0,
        standing="beginner",
        important_meet=DAY + timedelta(weeks=6),
    )
    seen = [answer(case).state]
    for change in ({"health": HealthFacts(pinch=True)}, {"age": 30.0}, {"standing": "trained"},
                   {"important_meet": None}, {"health": HealthFacts()}):  # fmt: skip
        case = replace(case, **change)
        seen.append(answer(case).state)
    assert seen == [
        State.PAIN, State.UNDER_18, State.BEGINNER, State.MEET_AHEAD, State.STANCE_OUT, State.OFFERED_TRIAL
    ]  # fmt: skip


def test_a_trial_after_a_meet_starts_in_the_second_easy_week():
    found = answer(ONE_FOR_EACH_STATE[State.MEET_AHEAD])
    meet = DAY + timedelta(weeks=6)
    start = found.heading.values["start"]
    assert start.weekday() == 0 and timedelta(days=7) < start - meet <= timedelta(days=14)
    assert answer(facts(important_meet=DAY + timedelta(weeks=12))).state == State.KEEP
    assert answer(facts(important_meet=DAY - timedelta(days=1))).state == State.KEEP


def test_no_decision_falls_on_a_public_holiday():
    christmas = frozenset((date(2026, 12, 25), date(2026, 12, 26)))
    assert working_day(date(2026, 12, 25), christmas) == date(2026, 12, 28)  # the 27th is a Sunday


def test_the_strong_get_longer_trials():
    assert trial_weeks(facts(best_kg=200.0)) == 12 and trial_weeks(facts(best_kg=200.5)) == 16
    assert trial_weeks(facts(best_kg=150.0), layered({"trial.weeks": 10})) == 10


def test_a_left_style_is_not_offered_again():
    offered = ONE_FOR_EACH_STATE[State.OFFERED_TRIAL]
    assert answer(replace(offered, left_after_sessions={"sumo": 7})).state == State.OFFERED_TRIAL
    assert answer(replace(offered, left_after_sessions={"sumo": 8})).state != State.OFFERED_TRIAL


def test_the_house_rule_is_off_by_default_and_never_for_minors_or_beginners():
    new = facts(years={"conventional": 1.0})
    on = layered({"house.sumo_first": 1})
    assert answer(new).state == State.KEEP
    found = answer(new, on)
    assert found.state == State.OFFERED_TRIAL and "reason.house-rule" in [m.code for m in found.reasons_for]
    assert answer(replace(new, age=17.0), on).state == State.UNDER_18
    assert answer(replace(new, standing="beginner"), on).state == State.BEGINNER
    assert answer(replace(new, years={"conventional": 2.0}), on).state == State.KEEP


def test_a_link_needs_three_misses_or_two_and_two_slow_lifts():
    def state(**more):
        return answer(facts(links=links(0.0, back=0.72, name="back", **more))).state

    assert state(misses=3) == State.TRAIN_LINK
    assert state(misses=2) == State.KEEP
    assert state(misses=2, slow_lifts=2) == State.TRAIN_LINK
    assert state(misses=0, slow_lifts=9) == State.KEEP
    assert answer(facts(links=links(0.0, back=0.72, misses=5))).state == State.KEEP  # not named by the log's own rule


def test_a_round_back_with_lockout_misses_comes_before_the_link():
    likely = links(0.0, back=0.72, name="back")
    shape = ONE_FOR_EACH_STATE[State.START_FLATTER].back
    assert answer(facts(links=likely, back=shape)).state == State.TRAIN_LINK
    round_lockouts = replace(likely, lockout_round_misses=2)
    assert answer(facts(links=round_lockouts, back=shape)).state == State.START_FLATTER
    noted = facts(links=round_lockouts, back=shape, health=HealthFacts(back_note=True))
    assert answer(noted).state == State.TRAIN_LINK


def test_heavy_days_count_before_a_decision():
    case = ONE_FOR_EACH_STATE[State.DUE_ADOPT]
    assert answer(replace(case, trial=replace(case.trial, heavy_days=3))).state == State.TRIAL_DAYS_SHORT
    assert answer(replace(case, trial=replace(case.trial, days=13))).state == State.TRIAL_DAYS_SHORT
    assert answer(replace(case, trial=replace(case.trial, days=14))).state == State.DUE_ADOPT


def test_without_the_old_style_the_old_threshold_decides():
    case = ONE_FOR_EACH_STATE[State.DUE_ADOPT].trial
    alone = replace(case, old_kept=False)
    assert answer(facts(trial=alone)).state == State.DUE_BACK
    assert answer(facts(trial=replace(alone, gain_threshold_met=True))).state == State.DUE_ADOPT


def test_a_trial_for_soreness_may_be_adopted_when_level():
    level = replace(TRIAL, gain=0.004, loss=0.008, chance_better=0.35, chance_not_worse=0.85, success="soreness")
    assert answer(facts(trial=level)).state == State.DUE_BACK
    assert answer(facts(trial=replace(level, easier=True))).state == State.DUE_ADOPT
    assert answer(facts(trial=replace(level, easier=True, chance_not_worse=0.6))).state == State.DUE_BACK


def test_four_more_weeks_are_asked_for_once():
    unclear = ONE_FOR_EACH_STATE[State.DUE_FOUR_MORE].trial
    assert answer(facts(trial=replace(unclear, extended=True))).state == State.DUE_ADOPT


def test_stop_rule_stands_beside_every_trial():
    for state in (State.OFFERED_TRIAL, State.TRIAL_ON_COURSE, State.TRIAL_DAYS_SHORT):
        assert "caution.stop-rule" in [m.code for m in answer(ONE_FOR_EACH_STATE[state]).cautions]


def test_an_offered_trial_is_the_next_action():
    assert answer(ONE_FOR_EACH_STATE[State.OFFERED_TRIAL]).next_action.kind == ActionKind.TRIAL
    assert answer(ONE_FOR_EACH_STATE[State.TRAIN_LINK]).next_action.kind == ActionKind.TRAIN
    assert answer(facts(trial=RUNNING)).next_action.kind == ActionKind.KEEP_GOING


def test_a_trial_without_a_lift_in_the_old_style_names_no_estimate():
    found = answer(facts(trial=replace(RUNNING, old_kg=None, estimate_kg=None)))
    assert found.state == State.TRIAL_ON_COURSE
    assert found.ground[0].code == "decision.no-estimate"
