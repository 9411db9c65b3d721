"""Running a meet by rule: order, changes, steps, places, and what passes a rival."""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from analysis.core.meets.day import (
    Attempt,
    AttemptRefused,
    Entrant,
    MeetRules,
    change_attempt,
    changes_left,
    declare,
    lifts_before,
    minutes_until,
    needed_to_pass,
    next_default,
    order_of_lifting,
    out_of_total,
    places,
    record,
    seconds_to_declare_left,
    subtotal,
    total,
)

RULES = MeetRules()


def entrant(key, lot, mass, deadlifts=(), squat=150.0, bench=90.0):
    first = {"squat": (Attempt(squat, "made"),), "bench": (Attempt(bench, "made"),)}
    return Entrant(key, lot, mass, {**first, "deadlift": tuple(deadlifts)})


def test_the_lighter_bar_lifts_first_then_lot_then_body_mass():
    flight = [
        entrant("a", 9, 74, [Attempt(180)]),
        entrant("b", 2, 80, [Attempt(175)]),
        entrant("c", 4, 70, [Attempt(180)]),
        entrant("d", 4, 66, [Attempt(180)]),
    ]
    assert [key for key, _, _ in order_of_lifting(flight, "deadlift")] == ["b", "d", "c", "a"]


def test_a_round_is_finished_before_the_next_begins():
    flight = [
        entrant("a", 1, 74, [Attempt(120, "made"), Attempt(125)]),
        entrant("b", 2, 74, [Attempt(250)]),
        entrant("c", 3, 74, [Attempt(120, "made"), Attempt(130, "missed"), Attempt(130)]),
    ]
    order = order_of_lifting(flight, "deadlift")
    assert [(key, number) for key, number, _ in order] == [("b", 1), ("a", 2), ("c", 3)]
    assert lifts_before(order, "c") == 2 and minutes_until(order, "c", 90) == 3.0
    assert lifts_before(order, "nobody") is None


def test_the_last_deadlift_may_be_changed_twice_the_second_not_at_all():
    second = entrant("a", 1, 74, [Attempt(180, "made"), Attempt(190)])
    assert changes_left(second, "deadlift", RULES) == 0
    with pytest.raises(AttemptRefused, match="attempt 2"):
        change_attempt(second, "deadlift", 195, RULES)
    third = entrant("a", 1, 74, [Attempt(180, "made"), Attempt(190, "made"), Attempt(197.5)])
    changed = change_attempt(change_attempt(third, "deadlift", 202.5, RULES), "deadlift", 200, RULES)
    assert changed.of("deadlift")[2] == Attempt(200, "due", 2)
    with pytest.raises(AttemptRefused, match="used up"):
        change_attempt(changed, "deadlift", 205, RULES)


def test_the_rule_set_is_editable():
    loose = replace(RULES, changes={**RULES.changes, "deadlift": (3, 3, 3)}, step_kg=0.5)
    second = entrant("a", 1, 74, [Attempt(180, "made"), Attempt(190)])
    assert change_attempt(second, "deadlift", 191.5, loose).of("deadlift")[1].load_kg == 191.5


@pytest.mark.parametrize(("load", "why"), [(180, "at least 182.5"), (181, "multiple of 2.5"), (170, "at least")])
def test_a_load_against_the_rules_is_refused_with_the_reason(load, why):
    with pytest.raises(AttemptRefused, match=why):
        declare(entrant("a", 1, 74, [Attempt(180, "made")]), "deadlift", load, RULES)


def test_after_a_miss_the_same_load_may_be_repeated():
    after = entrant("a", 1, 74, [Attempt(180, "missed")])
    assert next_default(after.of("deadlift")[0], RULES) == 180
    assert declare(after, "deadlift", 180, RULES).of("deadlift")[1] == Attempt(180)
    assert next_default(Attempt(180, "made"), RULES) == 182.5


def test_three_attempts_and_no_more():
    one = entrant("a", 1, 74)
    for load in (180, 190, 200):
        one = record(declare(one, "deadlift", load, RULES), "deadlift", "made")
    assert total(one) == 150 + 90 + 200
    with pytest.raises(AttemptRefused, match="all three"):
        declare(one, "deadlift", 210, RULES)
    with pytest.raises(AttemptRefused, match="no attempt waits"):
        record(one, "deadlift", "made")


def test_an_attempt_that_waits_is_not_declared_over():
    with pytest.raises(AttemptRefused, match="already waits"):
        declare(entrant("a", 1, 74, [Attempt(180)]), "deadlift", 190, RULES)


def test_three_misses_leave_no_total_but_keep_the_subtotal():
    out = entrant("a", 1, 74, [Attempt(180, "missed"), Attempt(180, "no-lift"), Attempt(180, "missed")])
    assert out_of_total(out, "deadlift") and total(out) == 0 and subtotal(out) == 240
    assert places([out]) == ()


def test_equal_totals_go_to_the_lighter_lifter():
    heavy = entrant("h", 1, 82.4, [Attempt(200, "made")])
    light = entrant("l", 2, 81.9, [Attempt(200, "made")])
    best = entrant("b", 3, 82.9, [Attempt(210, "made")])
    assert [key for _, key, _ in places([heavy, light, best])] == ["b", "l", "h"]


@pytest.mark.parametrize(
    ("rival", "rival_mass", "needed"),
    [(440, 75, 200.0), (440, 73, 202.5), (441, 75, 202.5), (439.5, 73, 200.0)],
)
def test_the_lightest_deadlift_that_passes_a_rival(rival, rival_mass, needed):
    one = entrant("a", 1, 74)
    assert needed_to_pass(one, rival, rival_mass, RULES) == needed


def test_without_a_subtotal_nothing_passes_anyone():
    assert needed_to_pass(Entrant("a", 1, 74), 400, 70, RULES) is None


def test_time_to_hand_in_the_next_attempt_runs_out_at_zero():
    ended = datetime(2026, 11, 25, 14, 0, 0)
    assert seconds_to_declare_left(ended, ended + timedelta(seconds=20), RULES) == 40
    assert seconds_to_declare_left(ended, ended + timedelta(seconds=99), RULES) == 0
