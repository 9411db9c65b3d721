"""Every number of meet attempts and warm-ups, at its boundary or along its slope."""

from dataclasses import replace
from math import log

import pytest

from analysis.core.estimates.running_best import running_best
from analysis.core.meets import Goal, MeetDay, chance_of, day_best, opener_finding, plan_attempts, preparation_findings
from analysis.core.meets import warm_up_ladder as ladder
from analysis.core.meets.live import (
    Lift,
    belief_before,
    belief_of,
    call_at,
    opener_most,
    read_day,
    seen_sd,
    take_result,
)
from analysis.core.meets.plans import load_grid, ratio_plan
from analysis.core.meets.tree import board, start
from analysis.core.records.estimates import DayBest
from analysis.core.settings import DEFAULTS
from analysis.meets.planning import careful_plan
from tests.core.logbook import day, pull, weekly
from tests.core.settings.rows import NUDGE, Edge, Slope, check_edge, check_slope

DAY = DayBest(200.0, 0.03, 199.0, 208.0, False, ())
BEFORE = belief_of(log(180.0), 0.042)
FINE = {"meet.step": 0.5}  # kg, so that rounding to steps hides no change
EASY_UNSURE = {"meet.read_easy_sd": 0.2}  # so that the smaller error of a hard lift is the one in force
BEST = running_best(weekly(0, 8, 200.0), day(49))
MEET = MeetDay(day(50), after_squat_and_bench=False)


def thin_by_days(days, settings):
    best = running_best(weekly(0, int(days), 200.0), day(int(days) * 7 - 7))
    return day_best(best, replace(MEET, day=best.as_of), settings).thin


def thin_by_spread(sd, settings):
    """With so much doubt in the level that the day's is `sd` in all."""
    own = (sd**2 - settings["meet.day_sd"] ** 2) ** 0.5 / NUDGE
    best = replace(BEST, sd_log=(own,) * len(BEST.days))
    return day_best(best, replace(MEET, day=day(49)), settings).thin


def prepared(share, days_before, settings):
    one = pull(50 - int(days_before), BEST.now_kg * share)
    return preparation_findings([one], [BEST], MEET, settings)[0].code


EDGES = (
    Edge("meet.points_least", 4, 1, thin_by_days, True, False, False),
    Edge("meet.spread_most", 0.06, 0.01, thin_by_spread, False, False, True),
    Edge(
        "meet.opener_warning",
        0.93,
        0.01,
        lambda x, s: opener_finding(x * 200.0, 200.0, s) is None,
        True,
        True,
        False,
    ),
    Edge(
        "meet.heavy_share",
        0.90,
        0.01,
        lambda x, s: prepared(x, 10, s),
        "no-heavy-pull",
        "heavy-in-window",
        "heavy-in-window",
    ),
    Edge(
        "meet.heavy_days_low",
        5,
        1,
        lambda x, s: prepared(1.0, x, s),
        "heavy-too-near",
        "heavy-in-window",
        "heavy-in-window",
    ),
    Edge(
        "meet.heavy_days_high",
        17,
        1,
        lambda x, s: prepared(1.0, x, s),
        "heavy-in-window",
        "heavy-in-window",
        "heavy-too-long-ago",
    ),
)


def bolder(settings):
    """The bolder plan: its opener is the heaviest that is safe enough, its later loads rise the farther it leans."""
    return next(p for p in plan_attempts(DAY, settings=settings) if p.name == "bolder")


def ratio(place):
    return lambda s: ratio_plan(DAY, None, s).loads_if_made[place]


def careful(place):
    return lambda s: careful_plan(DAY, s).loads_if_made[place]


def meet_median(settings, **more):
    return day_best(BEST, replace(MEET, **more), settings).median_kg


def meet_sd(settings, **more):
    return day_best(BEST, replace(MEET, **more), settings).sd_log


def grid_step(settings):
    first, second = load_grid(DAY, Goal(), (), settings)[:2]
    return second - first


def after_warm_up(settings, **seen):
    return float(read_day(BEFORE, (Lift(170.0, **seen),), settings).sd)


def later_makes(settings):
    """Chance of the second attempt at the first one's load."""
    table = board(DAY, [200.0], [1.0], 0.0, settings)
    return float((start(table).belief * table.makes[1, 0]).sum())


def step_of(place):
    return lambda s: ladder(200.0, s)[place].load_kg


def call(attempt, with_news):
    return lambda s: float(call_at(BEFORE, attempt, with_news, s))


SLOPES = (
    Slope("meet.opener_chance", 0.85, 0.97, lambda s: bolder(s).root.load_kg, rises=False, others=FINE),
    Slope("meet.step", 1.0, 5.0, grid_step, default=2.5),
    Slope("meet.opener_ratio", 0.88, 0.94, ratio(0), default=182.0, others=FINE),
    Slope("meet.second_ratio", 0.94, 0.98, ratio(1), default=192.0, others=FINE),
    Slope("meet.third_ratio", 0.99, 1.03, ratio(2), default=202.0, others=FINE),
    Slope("meet.careful_opener", 0.80, 0.88, careful(0), default=170.0, others=FINE),
    Slope("meet.careful_second", 0.87, 0.92, careful(1), default=180.0, others=FINE),
    Slope("meet.careful_third", 0.92, 0.97, careful(2), default=190.0, others=FINE),
    Slope("meet.day_sd", 0.01, 0.04, meet_sd),
    Slope("meet.after_squat_bench", -0.03, -0.005, lambda s: meet_median(s, after_squat_and_bench=True)),
    Slope("meet.first_meet", -0.06, -0.01, lambda s: meet_median(s, first_meet=True)),
    Slope("meet.other_bar_sd", 0.01, 0.04, lambda s: meet_sd(s, bar="flexible")),
    Slope("meet.attempt_cost", 0.001, 0.01, later_makes, rises=False),
    Slope(
        "meet.attempt_cost", 0.001, 0.01, lambda s: float(take_result(BEFORE, log(170.0), True, s).mean), rises=False
    ),
    Slope("meet.slip", 0.01, 0.05, lambda s: float(chance_of(DAY, 100.0, s)), rises=False, default=0.98),
    Slope("meet.slip", 0.01, 0.05, lambda s: float(BEFORE.chance(log(100.0), s)), rises=False, default=0.98),
    Slope("meet.alternative_risk", 5, 60, lambda s: sum(bolder(s).loads_if_made), others=FINE),
    Slope("meet.bias_sd", 0.01, 0.04, lambda s: float(belief_before(DAY, s).sd)),
    Slope(
        "meet.read_rpe_sd", 0.015, 0.045, lambda s: after_warm_up(s, reps_left=1.0), others={"meet.read_easy_sd": 0.2}
    ),
    Slope("meet.read_easy_sd", 0.03, 0.1, lambda s: after_warm_up(s, reps_left=4.0)),
    Slope("meet.read_speed_sd", 0.01, 0.04, lambda s: after_warm_up(s, speed_best_kg=182.0)),
    Slope("meet.opener_most", 0.90, 0.96, lambda s: float(opener_most(BEFORE, s)), default=0.94 * 180.0),
    Slope("meet.read_widening", 3.0, 9.0, lambda s: float(seen_sd(log(180), log(160), 0.03, s))),
    Slope("meet.z_opener", -3.5, -2.5, call(0, False)),
    Slope("meet.z_second", -1.5, -0.5, call(1, False)),
    Slope("meet.z_opener_read", -3.5, -2.5, call(0, True)),
    Slope("meet.z_second_read", -1.7, -0.7, call(1, True)),
    Slope("warm.first", 0.30, 0.40, step_of(0), default=70.0, others=FINE),
    Slope("warm.second", 0.45, 0.55, step_of(1), default=100.0, others=FINE),
    Slope("warm.third", 0.55, 0.68, step_of(2), default=124.0, others=FINE),
    Slope("warm.fourth", 0.70, 0.78, step_of(3), default=148.0, others=FINE),
    Slope("warm.fifth", 0.78, 0.86, step_of(4), default=164.0, others=FINE),
    Slope("warm.last", 0.86, 0.94, step_of(5), default=180.0, others=FINE),
    Slope("warm.gap_minutes", 3, 5, lambda s: ladder(200.0, s)[0].minutes_before, default=27),
    Slope("warm.last_minutes", 5, 10, lambda s: ladder(200.0, s)[-1].minutes_before, default=7),
)


@pytest.mark.parametrize("row", EDGES, ids=str)
def test_a_threshold_is_where_it_is_said_to_be(row):
    check_edge(row)


@pytest.mark.parametrize("row", SLOPES, ids=str)
def test_raising_a_number_moves_its_outcome(row):
    check_slope(row)


def test_with_the_defaults_a_day_is_lowered_by_the_stated_shares():
    level = meet_median(DEFAULTS)
    assert meet_median(DEFAULTS, after_squat_and_bench=True) == pytest.approx(level * 0.985)
    assert meet_median(DEFAULTS, first_meet=True) == pytest.approx(level * 0.965)
