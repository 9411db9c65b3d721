"""The squad wall's reasons: from the one answer and dates, one first, private ones only with a health entry."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from analysis.core.decision.answer import answer, answers
from analysis.core.records.decision import DecisionFacts, HealthFacts, LinkPosterior, TrialFacts
from analysis.core.records.squad import Due, WallSigns
from analysis.core.settings import DEFAULTS
from analysis.core.squad.wall import ORDER, SLIPS, wall_reasons
from analysis.text.say import Reader, say
from analysis.text.wall import TEXTS

DAY = date(2026, 11, 27)
PLAIN = DecisionFacts(DAY, measured=True, logged_days=40, best_kg=180.0)
SIGNS = WallSigns(DAY, last_logged=DAY - timedelta(days=2), last_heavy=DAY - timedelta(days=6))
TRIAL = TrialFacts("sumo", "conventional", DAY - timedelta(weeks=12), DAY, days=18, heavy_days=6, old_kg=180.0)


def codes(facts=PLAIN, signs=SIGNS) -> list[str]:
    return [one.code for one in wall_reasons(answer(facts), facts, signs)]


def first(facts=PLAIN, signs=SIGNS):
    return wall_reasons(answer(facts), facts, signs)[0]


def test_a_lifter_who_goes_as_planned_has_no_reason():
    assert codes() == []


def test_a_trial_that_ends_today_is_decided_today():
    level = first(replace(PLAIN, trial=TRIAL))
    assert (level.code[:4], level.due, level.leads) == ("due-", Due.TODAY, "trial")


def test_days_short_waits_until_the_decision_day_then_it_is_for_today():
    running = replace(TRIAL, decision_day=DAY + timedelta(days=14), days=4, begins=DAY - timedelta(weeks=10))
    assert first(replace(PLAIN, trial=running)).due == Due.WEEK
    ended = first(replace(PLAIN, trial=replace(TRIAL, days=4)))
    assert (ended.code, ended.due) == ("days-short", Due.TODAY)
    assert say(ended.message, Reader()) == "4 of 18 sumo days"


@pytest.mark.parametrize(("days", "found"), [(7, ["test-day"]), (8, [])])
def test_a_test_day_is_asked_for_from_a_week_before_the_decision(days, found):
    ahead = replace(TRIAL, decision_day=DAY + timedelta(days=days))
    assert codes(replace(PLAIN, trial=ahead)) == found


@pytest.mark.parametrize(("days", "due"), [(-1, []), (0, ["attempts"]), (14, ["attempts"]), (15, [])])
def test_a_meet_within_two_weeks_asks_for_attempts(days, due):
    assert codes(signs=replace(SIGNS, next_meet=DAY + timedelta(days=days))) == due


@pytest.mark.parametrize(("days", "found"), [(14, []), (15, ["no-heavy"])])
def test_more_than_two_weeks_without_a_heavy_pull(days, found):
    assert codes(signs=replace(SIGNS, last_heavy=DAY - timedelta(days=days))) == found


def test_nobody_asks_a_beginner_or_one_in_a_trial_for_a_heavy_pull():
    idle = replace(SIGNS, last_heavy=DAY - timedelta(days=40))
    assert codes(replace(PLAIN, standing="beginner"), idle) == []
    assert codes(replace(PLAIN, trial=replace(TRIAL, decision_day=DAY + timedelta(days=60))), idle) == []


@pytest.mark.parametrize(("days", "found"), [(13, []), (14, ["not-logged"])])
def test_a_silent_log(days, found):
    silent = replace(SIGNS, last_logged=DAY - timedelta(days=days))
    assert codes(signs=silent) == found


def test_all_misses_by_the_grip_put_the_hands_before_the_link():
    links = LinkPosterior(0.0, 0.5, chances={"conventional": {"back": 0.5, "hips": 0.5}}, misses=SLIPS)
    facts = replace(PLAIN, links=links)
    assert codes(facts, replace(SIGNS, misses=SLIPS, slips=SLIPS, last_miss="9")) == ["slips"]
    assert "slips" not in codes(facts, replace(SIGNS, misses=SLIPS, slips=SLIPS - 1, last_miss="9"))
    assert "slips" not in codes(facts, replace(SIGNS, misses=SLIPS - 1, slips=SLIPS - 1, last_miss="9"))


def test_a_named_link_asks_for_eight_weeks():
    links = LinkPosterior(
        0.0, 0.6, chances={"conventional": {"back": 0.8, "hips": 0.2}}, named={"conventional": "back"}, misses=4
    )
    found = first(replace(PLAIN, links=links))
    assert say(found.message, Reader()) == "Back likely, 4 misses"
    assert say(found.button, Reader()) == "Plan 8 weeks" and found.leads == "plan"


@pytest.mark.parametrize("health", [HealthFacts(pain=True), HealthFacts(pinch=True)])
def test_every_private_reason_says_the_same_and_is_absent_without_health(health):
    facts = replace(PLAIN, health=health)
    whole, plain = answers(facts)
    own = wall_reasons(whole, facts, SIGNS)[0]
    reader = Reader(allowed=own.message.needs, name="Ivar")
    assert (say(own.message, reader), say(own.button, reader)) == ("Only you see this", "Talk to Ivar")
    assert say(own.message, Reader(name="Ivar")) == "" and own.private
    assert wall_reasons(plain, facts.without_health(), SIGNS) == wall_reasons(answer(PLAIN), PLAIN, SIGNS)


def test_soreness_of_the_last_days_is_private_and_returns_with_the_next_note():
    sore = [first(signs=replace(SIGNS, private=day)) for day in ("2026-11-24", "2026-11-26")]
    assert [one.code for one in sore] == ["private"] * 2 and sore[0].evidence != sore[1].evidence


def test_today_comes_before_this_week_and_then_the_order_of_reasons():
    signs = replace(
        SIGNS, next_meet=DAY + timedelta(days=9), harder=(1.0, "7"), heavy_miss=(1.02, DAY), private="2026-11-26"
    )
    assert codes(signs=signs) == ["attempts", "private", "heavy-miss", "harder"]


def test_evidence_of_waiting_does_not_change_from_day_to_day():
    idle = replace(SIGNS, last_heavy=DAY - timedelta(days=20))
    later = replace(idle, day=DAY + timedelta(days=1), last_logged=DAY)
    assert first(signs=idle).evidence == first(replace(PLAIN, day=DAY + timedelta(days=1)), later).evidence
    assert first(signs=replace(idle, last_heavy=DAY - timedelta(days=19))).evidence != first(signs=idle).evidence


def test_every_reason_has_words_and_a_button_of_the_wall_s_length():
    assert {f"wall.{code}" for code in ORDER} | {f"wall.{code}.button" for code in ORDER} == set(TEXTS)
    for code, text in TEXTS.items():
        assert len(text.split()) <= (3 if code.endswith(".button") else 7), code


def test_measured_long_ago_is_said_in_months():
    stale = first(signs=replace(SIGNS, stale_days=400))
    assert say(stale.message, Reader()) == "Measured 13 months ago"
    assert DEFAULTS["squad.attempts_days"] == 14
