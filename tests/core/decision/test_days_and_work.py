"""Days on which nothing is decided, and the weeks of work for a link."""

from datetime import date, timedelta

import pytest

from analysis.core.decision.answer import answer
from analysis.core.decision.days import easter, holidays, is_closed, test_day, weeks_ahead, working_day
from analysis.core.records.decision import State
from analysis.core.settings import DEFAULTS, layered
from tests.core.decision.facts import DAY, ONE_FOR_EACH_STATE, RUNNING, facts

test_day.__test__ = False  # a function of the product, not a test


@pytest.mark.parametrize(
    ("year", "day"),
    [
        (2024, date(2024, 3, 31)), (2025, date(2025, 4, 20)), (2026, date(2026, 4, 5)), (2027, date(2027, 3, 28)),
        (2038, date(2038, 4, 25)), (2285, date(2285, 3, 22)),
    ],
)  # fmt: skip
def test_easter(year, day):
    assert easter(year) == day


def test_no_day_of_three_years_is_moved_onto_a_closed_one():
    closed = holidays((2026, 2027, 2028), [date(2026, 12, 28)])
    for step in range(3 * 365):
        day = date(2026, 1, 1) + timedelta(days=step)
        later, test = working_day(day, closed), test_day(day, closed)
        assert later >= day and not is_closed(later, closed)
        assert test <= day - timedelta(days=3) and not is_closed(test, closed)
    assert working_day(date(2026, 12, 24), closed) == date(2026, 12, 29)  # the club keeps the 28th as well
    assert working_day(date(2026, 4, 3), closed) == date(2026, 4, 7)


def test_neither_the_decision_nor_its_test_falls_on_a_holiday():
    closed = holidays((2026,), [DAY + timedelta(weeks=6)])
    found = answer(facts(trial=RUNNING, holidays=closed))
    assert found.heading.values["decision"] == RUNNING.decision_day + timedelta(days=1)
    assert found.action.values["test"] < found.heading.values["decision"] - timedelta(days=2)
    start = answer(facts(links=ONE_FOR_EACH_STATE[State.OFFERED_TRIAL].links, holidays=closed))
    assert not is_closed(start.action.values["start"], closed) and not is_closed(
        start.action.values["decision"], closed
    )


def test_the_weeks_of_work_rise_and_every_fourth_is_easy():
    weeks = weeks_ahead("back", 200.0)
    assert [week.easy for week in weeks] == [False, False, False, True] * 2
    hard = [week.load_kg for week in weeks if not week.easy]
    assert hard == sorted(hard) and hard[0] == 140.0 and hard[-1] == 160.0
    assert all(week.load_kg % 2.5 == 0 for week in weeks)
    assert len(weeks_ahead("back", 200.0, layered({"style.train_weeks": 6}))) == 6
    assert DEFAULTS["style.train_weeks"] == 8


def test_without_a_best_or_a_pull_that_trains_the_link_no_load_is_named():
    assert weeks_ahead("back", None) == () and weeks_ahead("legs", 200.0) == ()


def test_what_would_change_the_answer_counts_the_misses_still_wanted():
    found = answer(ONE_FOR_EACH_STATE[State.KEEP])
    codes = {message.code: message for message in found.changes}
    assert codes["change.misses"].values["more"] == 3 and "change.trial" in codes
    assert [message.code for message in found.years] == ["years.line"]
