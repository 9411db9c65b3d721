"""Attempts that read the day: the belief by sums and by drawing, calls after makes and misses, a needed number."""

from math import exp, log

import numpy as np
import pytest

from analysis.core.estimates.one_rep_max import estimate
from analysis.core.meets.live import (
    TAIL,
    Lift,
    belief_of,
    call_for_number,
    last_call,
    next_call,
    read_day,
    read_lift,
    seen_sd,
    take_result,
)
from analysis.core.meets.tree import Result
from analysis.core.settings import DEFAULTS, layered
from tests.benchmarks.calibrate_live_attempts import NEWS, WORLDS, compare

BEFORE = belief_of(log(180.0), 0.042)


def test_a_reading_updates_as_a_students_t_error_does():
    """Against fine sums over normal times t density (8 degrees of freedom); one far off counts less than a normal's."""
    x = log(180) + 0.042 * np.linspace(-9, 9, 20001)
    for seen in (188.0, 215.0):
        weight = np.exp(-0.5 * ((x - log(180)) / 0.042) ** 2)
        weight *= (1 + ((x - log(seen)) / 0.03) ** 2 / TAIL) ** (-0.5 * (TAIL + 1))
        found = read_lift(BEFORE, log(seen), 0.03)
        assert float(found.mean) == pytest.approx(np.average(x, weights=weight), abs=3e-4)
    by_normals = log(180) + 0.042**2 / (0.042**2 + 0.03**2) * log(215 / 180)
    assert float(found.mean) < by_normals - 0.005


def test_warm_ups_raise_the_opener_only_so_far():
    best_day = next_call(BEFORE, (Lift(150.0, speed_best_kg=215.0), Lift(155.0, speed_best_kg=215.0)), ())
    assert best_day.load_kg <= DEFAULTS["meet.opener_most"] * 180.0 + 1.25


def test_makes_and_misses_cut_the_belief_as_drawn_lifters_do():
    draws = np.random.default_rng(1).normal(log(180), 0.042, 400_000)
    made = np.exp(draws) >= 182.5
    slip = np.random.default_rng(2).random(draws.size) < DEFAULTS["meet.slip"]
    cost = np.log1p(-DEFAULTS["meet.attempt_cost"])
    for is_made, kept in ((True, made & ~slip), (False, ~(made & ~slip))):
        found = take_result(BEFORE, log(182.5), is_made)
        assert float(found.mean) == pytest.approx(draws[kept].mean() + cost, abs=5e-4)
        assert float(found.sd) == pytest.approx(draws[kept].std(), abs=8e-4)


def test_error_grows_with_distance_under_the_best():
    assert float(seen_sd(log(180), log(180), 0.03)) == pytest.approx(0.03)
    assert float(seen_sd(log(180), log(162), 0.03)) == pytest.approx(0.03 * (1 + 6 * log(180 / 162)))


def test_the_last_attempt_by_trying_every_load():
    belief = take_result(BEFORE, log(172.5), True)
    tried = {kg: float(belief.chance(log(kg))) * (kg - 172.5) for kg in np.arange(175.0, 215.0, 2.5)}
    assert float(last_call(belief, 175.0, 172.5)) == max(tried, key=tried.get)


def test_the_openers_chance_is_said_only_after_warm_ups():
    opener = next_call(BEFORE, (), ())
    assert (opener.basis, opener.chance, opener.load_kg) == ("log", None, 157.5)
    silent = next_call(BEFORE, (Lift(140.0),), ())
    assert silent.chance is None
    read = next_call(BEFORE, (Lift(145.0, 1, 4.0),), ())
    assert read.basis == "warm-ups" and read.chance > 0.95


def test_a_bad_day_is_read_and_planned_again_at_once():
    usual = next_call(BEFORE, (Lift(142.5, reps_left=5.0), Lift(150.0, reps_left=4.0)), ())
    heavy = next_call(BEFORE, (Lift(142.5, reps_left=1.0), Lift(150.0, reps_left=1.0)), ())
    assert heavy.load_kg <= usual.load_kg - 5.0
    by_speed = read_day(BEFORE, (Lift(150.0, speed_best_kg=165.0),))
    assert exp(float(by_speed.mean)) < 180.0


def test_a_repeat_after_a_miss_carries_the_miss():
    first = float(BEFORE.chance(log(170.0)))
    again = next_call(BEFORE, (), (Result(170.0, False),))
    assert again.load_kg >= 170.0 and again.chance < first - 0.2
    up = next_call(BEFORE, (), (Result(165.0, True), Result(172.5, True)))
    assert up.load_kg >= 175.0 and up.basis == "results"
    assert next_call(BEFORE, (), (Result(165.0, True),) * 3) is None


def test_a_low_third_says_why():
    third = next_call(BEFORE, (), (Result(160.0, False), Result(160.0, True)))
    assert third.load_kg < 180.0 and third.third_reason == "day-reads-lower"
    high = next_call(BEFORE, (Lift(165.0, reps_left=3.0),), (Result(170.0, True), Result(180.0, True)))
    assert high.third_reason == ""


def test_a_needed_number_takes_every_attempt_that_is_left():
    loads, chance = call_for_number(BEFORE, (), (), 190.0)
    assert loads == (157.5, 190.0, 190.0)
    after, later = call_for_number(BEFORE, (), (Result(165.0, True), Result(190.0, False)), 190.0)
    assert after == (190.0,) and later < chance
    heavier, less = call_for_number(BEFORE, (), (), 195.0)
    assert heavier[1:] == (195.0, 195.0) and less < chance


def test_effort_is_read_with_the_usual_rep_curve():
    found = read_day(BEFORE, (Lift(170.0, 1, 1.0),), layered({"meet.read_rpe_sd": 0.01, "meet.read_widening": 0.0}))
    assert exp(float(found.mean)) == pytest.approx(float(estimate(170.0, 2.0)), rel=0.01)


@pytest.mark.parametrize("number", range(4))
def test_reading_the_day_beats_the_thumb_rule_without_more_bombs(number):
    """4,000 simulated lifters a world at RPE noise 5 %: at least 2.5 kg less two standard errors."""
    gain, error, bombs, thumb_bombs = compare(4000, [77, number], WORLDS[number], NEWS[3])
    assert gain >= 2.5 - 2 * error
    assert bombs <= thumb_bombs
