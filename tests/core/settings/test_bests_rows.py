"""Every number of running bests, grip and bars at its boundary."""

import pytest

from analysis.core.estimates.grip_and_bar import bar_findings, held_findings, order_findings
from analysis.core.estimates.history import gaps, sudden_falls
from analysis.core.estimates.one_rep_max import reserve_range, set_estimate, spread_of
from analysis.core.estimates.recompute import usable
from analysis.core.estimates.running_best import running_best
from analysis.core.meets import MeetDay, day_best
from analysis.core.records.estimates import StartHeight
from analysis.core.settings import REGISTRY, layered
from tests.core.logbook import day, missed, pull, weekly
from tests.core.settings.rows import NUDGE, Edge, Slope, check_edge, check_slope


def is_used(reps, rir, settings):
    return set_estimate(pull(0, 100.0, int(reps), 10.0 - rir), settings).used


def guesses_used(share, settings):
    """A set without effort against a single of 100 kg a week before."""
    per_kg = set_estimate(pull(7, 1.0)).estimate_kg
    used, _ = usable([pull(0, 100.0, 1, 10.0), pull(7, share * 100.0 * NUDGE / per_kg)], settings)
    return len(used)


def falls(share, days_ago, settings):
    """A best of 200 kg, then a single so much lower and a miss, so many days ago."""
    on = 60 - int(days_ago)
    sets = [pull(0, 200.0, 1, 10.0), pull(on, 200.0 * (1.0 - share), 1, 10.0), missed(on, 190.0)]
    return len(sudden_falls(sets, (), day(60), settings))


def few_sets(sets, settings):
    log = weekly(0, 6, 150.0) + weekly(1, int(sets), 160.0, bar="flexible")
    (found,) = bar_findings(log, day(60), settings)
    return found.text.code == "bar.flexible-few-sets"


def other_bar(sessions, settings):
    best = running_best(weekly(0, 6, 150.0), day(35))
    found = day_best(best, MeetDay(day(36), "flexible", sessions_on_bar=int(sessions)), settings)
    return "other-bar" in [f.code for f in found.reasons]


def start_order(share, settings):
    heights = [StartHeight(h, kg, kg, kg, 3) for h, kg in ((0.0, 100.0 * (1.0 + share)), (0.1, 100.0))]
    return len(order_findings(heights, settings))


def held(share, settings):
    opened = missed(0, 200.0, gave_way="grip-opened")
    return len(held_findings([opened, pull(1, 200.0 * (1.0 + share) / NUDGE, straps=True)], day(2), settings))


EDGES = (
    Edge("best.reps_most", 8, 1, lambda x, s: is_used(x, 0.0, s), True, True, False),
    Edge("best.rir_most", 3, 0.5, lambda x, s: is_used(1, x, s), True, True, False),
    Edge("best.unnoted_share", 0.93, 0.01, guesses_used, 1, 2, 2),
    Edge("best.gap_days", 28, 1, lambda x, s: len(gaps([pull(0, 100.0)], (), day(int(x)), s)), 0, 0, 1),
    Edge("best.fall_alert", 0.15, 0.01, lambda x, s: falls(x, 5, s), 0, 0, 1),
    Edge("best.fall_days", 14, 1, lambda x, s: falls(0.3, x, s), 1, 0, 0),
    Edge("grip.limit_gain", 0.05, 0.01, held, 0, 0, 1),
    Edge("bar.least_sets", 3, 1, few_sets, True, False, False),
    Edge("bar.sessions_to_learn", 4, 1, other_bar, True, False, False),
    Edge("block.order_margin", 0.01, 0.005, start_order, 0, 0, 1),
)


def steady(settings):
    return running_best(weekly(0, 8, 150.0), day(100), settings)


SLOPES = (
    Slope("best.spread_1_3", 0.02, 0.05, lambda s: spread_of(3.0, s), default=0.03),
    Slope("best.spread_4_5", 0.04, 0.06, lambda s: spread_of(5.0, s), default=0.05),
    Slope("best.spread_6_8", 0.06, 0.12, lambda s: spread_of(5.5, s), default=0.09),
    Slope("best.unnoted_rir", 2.0, 5.0, lambda s: reserve_range(pull(0, 100.0), s)[1], default=3.0),
    Slope("best.day_sd", 0.01, 0.03, lambda s: set_estimate(pull(0, 100.0, 1, 9.5), s).sd_log, default=0.019),
    Slope("best.drift_4_weeks", 0.01, 0.04, lambda s: steady(s).sd_log[-1]),
)
OWN_TESTS = ("best.formula",)


@pytest.mark.parametrize("row", EDGES, ids=str)
def test_a_threshold_is_where_it_is_said_to_be(row):
    check_edge(row)


@pytest.mark.parametrize("row", SLOPES, ids=str)
def test_raising_a_number_moves_its_outcome(row):
    check_slope(row)


def test_every_formula_gives_its_own_best():
    """Eight reps to failure at 100 kg, worked out by hand from the published formulas."""
    choices = REGISTRY["best.formula"].choices
    found = {
        name: set_estimate(pull(0, 100.0, 8, 10.0), layered({"best.formula": place})).estimate_kg
        for place, name in enumerate(choices)
    }
    by_hand = {
        "epley-brzycki": (126.6667 + 124.1379) / 2,
        "epley": 126.6667,
        "brzycki": 124.1379,
        "lombardi": 123.1144,
        "mayhew": 126.2863,
        "wathan": 127.6714,
        "median": 126.2863,
    }
    assert found == pytest.approx(by_hand, abs=0.05)


def test_the_spread_changes_after_three_and_after_five_reps():
    assert [spread_of(reps) for reps in (3.0, 3.5, 5.0, 5.5)] == [0.03, 0.05, 0.05, 0.09]
