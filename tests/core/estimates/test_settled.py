"""What is kept of a kind holds for the very same sets only; going on from it is number for number all of it anew."""

from dataclasses import replace

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from analysis.core.estimates.comparable import kind_of
from analysis.core.estimates.kept import LRUCache
from analysis.core.estimates.recompute import KEPT, summarize_kinds
from analysis.core.estimates.running_best import running_best, running_bests
from analysis.core.settings import DEFAULTS, layered
from tests.core.logbook import day, pull, weekly

loads = st.sampled_from((120.0, 150.0, 180.0, 200.0))
efforts = st.sampled_from((None, 7.0, 8.5, 10.0))
sets = st.builds(pull, st.integers(0, 60), loads, st.integers(1, 9), efforts)
changes = st.lists(st.tuples(st.sampled_from(("add", "drop", "change")), st.integers(0, 30), sets), max_size=4)


def changed(rows, how, place, other):
    """One set more, one less, or one another; by day, as a log is read."""
    place = min(place, len(rows) - 1)
    if how == "change":
        rows = [*rows[:place], replace(rows[place], load_kg=other.load_kg, rir_low=other.rir_low), *rows[place + 1 :]]
    elif how == "drop" and len(rows) > 1:
        rows = [*rows[:place], *rows[place + 1 :]]
    else:
        rows = [*rows, other]
    return sorted(rows, key=lambda s: s.day)


def alone(rows, numbers=DEFAULTS):
    """The same with nothing kept."""
    KEPT.clear()
    return summarize_kinds([(kind_of(rows[0].tags), tuple(rows))], numbers)[0]


def same(one, other):
    """Equal in every number."""
    plain = ("used", "left_out", "singles", "days", "drift")
    arrays = ("level", "sd")
    return all(getattr(one, n) == getattr(other, n) for n in plain) and all(
        np.array_equal(getattr(one, n), getattr(other, n)) for n in arrays
    )


@given(st.lists(sets, min_size=1, max_size=25), changes)
def test_after_any_change_of_the_log_what_is_kept_comes_to_the_same_as_all_anew(log, steps):
    rows = sorted(log, key=lambda s: s.day)
    kept = [alone(rows)]
    for step in steps:
        rows = changed(rows, *step)
        kept.append(summarize_kinds([(kind_of(rows[0].tags), tuple(rows))])[0])
    assert same(kept[-1], alone(rows))


@given(st.lists(sets, min_size=1, max_size=25), st.integers(0, 70), st.integers(0, 70))
def test_asking_as_of_another_day_finds_what_that_day_knew(log, first, second):
    KEPT.clear()
    running_bests(log, day(first))
    after = running_bests(log, day(second))
    KEPT.clear()
    assert after == running_bests(log, day(second))


def test_other_settings_are_not_answered_from_what_is_kept():
    rows = weekly(0, 8, 200)
    usual, wide = running_best(rows, day(60)), running_best(rows, day(60), layered({"best.day_sd": 0.08}))
    assert usual.range_kg[1] < wide.range_kg[1]
    assert running_best(rows, day(60)) == usual


def test_the_same_sets_are_worked_out_once():
    rows = weekly(0, 8, 200)
    assert running_best(rows, day(60)).points is running_best(rows, day(61)).points


def test_a_log_of_nothing_usable_is_kept_as_such():
    rows = [pull(0, 100, 12, 6)]
    assert not summarize_kinds([(kind_of(rows[0].tags), tuple(rows))])[0].used
    assert not summarize_kinds([(kind_of(rows[0].tags), tuple(rows))])[0].used


def test_the_least_used_makes_room_and_the_newest_stays_however_large():
    kept = LRUCache(10)
    kept.keep("a", 1, 4)
    kept.keep("b", 2, 4)
    assert kept.get("a") == 1
    kept.keep("c", 3, 4)
    assert (kept.get("a"), kept.get("b"), kept.get("c")) == (1, None, 3)
    kept.keep("a", 5, 2)
    kept.keep("d", 6, 4)
    assert (kept.get("a"), kept.get("c"), kept.get("d")) == (5, 3, 6)
    kept.keep("e", 7, 50)
    assert kept.get("e") == 7 and kept.get("a") is None
