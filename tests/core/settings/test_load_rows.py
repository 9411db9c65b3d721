"""Every number of lower-back load and of what explains a miss at its boundary."""

from dataclasses import replace

import pytest

from analysis.core.estimates.effort import big_jumps, rpe_creeps, slower_pulls
from analysis.core.estimates.misses import HARD_RPE, is_hard, position_finding, read_misses
from analysis.core.training.back_load import back_load, sore_finding, spacing_by_style
from tests.core.logbook import day, missed, note, pull
from tests.core.settings.rows import Edge, check_edge
from tests.core.weak_link_log import lifter

NOW = 60


def heavy_day(share, settings):
    """Whether a pull at this share of the best counts as the last heavy one."""
    (found,) = spacing_by_style([pull(0, 100.0)], [share], day(NOW), settings)
    return found.last_day is not None


def place(days, style, settings):
    sets = [pull(NOW - int(days), 100.0, style=style)]
    (found,) = spacing_by_style(sets, [0.9], day(NOW), settings)
    return found.place


def conventional(days, settings):
    return place(days, "conventional", settings)


def sumo(days, settings):
    return place(days, "sumo", settings)


def load_codes(more, settings):
    """A four-week load so much above the one before."""
    sets = [pull(NOW - 40, 100.0), pull(NOW - 10, 120.0)]
    found = back_load(sets, [100.0, 100.0 * (1.0 + more)], [0.5, 0.5], (), day(NOW), settings)
    return "load-up" in [f.code for f in found.findings]


def creeps(rpe, load_share, settings):
    sets = [pull(NOW - 40, 100.0, 3, 7.0), pull(NOW - 10, 100.0 * (1.0 + load_share), 3, 7.0 + rpe)]
    return len(rpe_creeps(sets, day(NOW), settings))


def slower(share, settings):
    sets = [pull(NOW - 40, 100.0, pull_seconds=4.0), pull(NOW - 10, 100.0, pull_seconds=4.0 * (1.0 + share))]
    return len(slower_pulls(sets, day(NOW), settings))


def jumps(share, settings):
    return len(big_jumps([pull(0, 100.0), missed(0, 100.0 * (1.0 + share))], settings))


EDGES = (
    Edge("load.heavy_share", 0.85, 0.01, heavy_day, False, True, True),
    Edge("load.heavy_share", 0.85, 0.01, lambda x, s: is_hard(pull(0, 100 * x), 100.0, s), False, True, True),
    Edge("load.window_conventional_low", 7, 1, conventional, "sooner", "inside", "inside"),
    Edge("load.window_conventional_high", 14, 1, conventional, "inside", "inside", "longer"),
    Edge("load.window_sumo_low", 5, 1, sumo, "sooner", "inside", "inside"),
    Edge("load.window_sumo_high", 7, 1, sumo, "inside", "inside", "longer"),
    Edge("load.rise", 0.15, 0.01, load_codes, False, False, True),
    Edge("load.creep_rpe", 1.0, 0.5, lambda x, s: creeps(x, 0.0, s), 0, 1, 1),
    Edge("load.same_load", 0.02, 0.01, lambda x, s: creeps(2.0, x, s), 1, 1, 0),
    Edge("load.slower", 0.10, 0.05, slower, 0, 1, 1),
    Edge("load.sore", 5, 1, lambda x, s: sore_finding([note(0, int(x))], day(0), s) is not None, False, True, True),
    Edge("load.warm_up_jump", 0.15, 0.01, jumps, 0, 0, 1),
)


def last_miss(sets, settings, days=(), miss=None):
    """The reading of the last miss with a level of 100 kg for every set, None when it is not read."""
    rows = [*sets, miss or missed(NOW, 100.0)]
    found = read_misses(lifter(rows, days), {one.key: 100.0 for one in rows}, day(NOW), settings)
    return found[-1] if found else None


def as_rested(sets, settings, days=(), **more):
    """Whether a miss is read like one with nothing around it."""
    found, alone = last_miss(sets, settings, days, **more), last_miss([], settings)
    return replace(found, set=alone.set) == alone


def tired(hours, settings):
    return as_rested([pull(NOW - int(hours) // 24, 50.0, rpe=9.0)], settings)


def sore(points, settings):
    return as_rested([], settings, [note(NOW, int(points))])


def light(share, settings):
    return last_miss([], settings, miss=missed(NOW, 100.0 * share)).code == "light"


def new_bar(sessions, settings):
    used = [pull(NOW - 20 - i, 50.0, rpe=6.0, bar="flexible") for i in range(int(sessions))]
    before = [pull(NOW - 30, 50.0, rpe=6.0), *used]
    return as_rested(before, settings, miss=missed(NOW, 100.0, bar="flexible"))


def old_miss(weeks, settings):
    return last_miss([], settings, miss=missed(NOW - int(weeks * 7), 100.0)) is not None


def top_misses(share, shape, settings):
    """What the block below the knee makes of two misses at lockout."""
    sets = [missed(NOW - 14, 100.0, miss_position="lockout"), missed(NOW, 100.0, miss_position="lockout")]
    readings = read_misses(lifter(sets), {one.key: 100.0 for one in sets}, day(NOW), settings)
    return position_finding(readings, [*sets, pull(0, 90.0, shape=shape)], "conventional", share, settings).code


def rounded(share, settings):
    return top_misses(share, "rounded-before", settings)


def flat(share, settings):
    return top_misses(share, "flat", settings)


EDGES += (
    Edge("miss.fatigue_hours", 72, 24, tired, False, False, True),
    Edge("miss.sore", 5, 1, sore, True, False, False),
    Edge("miss.heavy_share", 0.90, 0.01, light, True, False, False),
    Edge("miss.weeks", 12, 1, old_miss, True, False, False),
    Edge("miss.bar_sessions", 3, 1, new_bar, False, True, True),
    Edge("miss.position_block", 1.08, 0.01, rounded, "top-open", "position-not-strength", "position-not-strength"),
    Edge("miss.lockout_block", 1.02, 0.01, flat, "strength-at-top", "strength-at-top", "top-open"),
)


@pytest.mark.parametrize("row", EDGES, ids=str)
def test_a_threshold_is_where_it_is_said_to_be(row):
    check_edge(row)


@pytest.mark.parametrize(("rpe", "hard"), [(8.0, False), (8.5, True), (9.0, True)])
def test_a_set_is_hard_from_an_rpe_of_eight_and_a_half(rpe, hard):
    assert HARD_RPE == 8.5
    assert is_hard(pull(0, 50.0, 3, rpe), 100.0) is hard
