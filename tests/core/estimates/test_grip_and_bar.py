"""Straps, bars, pull time and start heights: like with like, differences with ranges and sets."""

import pytest

from analysis.core.estimates.grip_and_bar import (
    bar_comparisons,
    bar_findings,
    grip_findings,
    held_findings,
    order_findings,
    pull_times,
    start_heights,
    strap_comparisons,
)
from analysis.core.settings import layered
from tests.core.logbook import day, missed, pull, weekly
from tests.said import said


def codes(found):
    return [f.code for f in found]


def test_straps_that_add_a_tenth_make_grip_the_limit():
    sets = weekly(0, 8, 180) + weekly(1, 8, 200, straps=True)
    (found,) = [f for f in grip_findings(sets, day(58)) if f.code == "grip-limits"]
    assert found.number("gain") == pytest.approx(1 / 9, abs=0.01)
    (compared,) = strap_comparisons(sets, day(58))
    assert (compared.first, compared.second) == ("mixed", "straps")
    assert compared.low_kg < compared.difference_kg < compared.high_kg
    assert (compared.first_sets, compared.second_sets) == (8, 8)


def test_straps_that_add_nothing_clear_the_grip():
    sets = weekly(0, 8, 200) + weekly(1, 8, 200, straps=True)
    assert "grip-does-not-limit" in codes(grip_findings(sets, day(58)))


def test_few_sets_leave_it_open():
    sets = [pull(0, 180, 3, 8), pull(1, 190, 3, 8, straps=True)]
    assert codes(grip_findings(sets, day(5))) == ["grip-open"]


def test_the_limit_is_a_setting():
    sets = weekly(0, 8, 180) + weekly(1, 8, 200, straps=True)
    lenient = layered({"grip.limit_gain": 0.20})
    assert "grip-limits" not in codes(grip_findings(sets, day(58), lenient))


def test_grip_is_judged_per_bar_grip_and_style():
    sets = (
        weekly(0, 6, 160, grip="double-overhand")
        + weekly(1, 6, 190)
        + weekly(2, 6, 200, straps=True)
        + weekly(3, 6, 210, bar="flexible")
        + weekly(4, 6, 150, style="sumo", straps=True)
    )
    compared = {(c.style, c.bar, c.first): c.gain for c in strap_comparisons(sets, day(60))}
    assert set(compared) == {("conventional", "stiff", "double-overhand"), ("conventional", "stiff", "mixed")}
    assert compared["conventional", "stiff", "double-overhand"] > compared["conventional", "stiff", "mixed"]


def test_hands_that_open_below_what_straps_hold_need_no_formula():
    sets = [missed(d, w, gave_way="grip-opened") for d, w in ((0, 175), (7, 177.5), (14, 175))]
    sets.append(pull(20, 195, 3, straps=True))
    (found,) = held_findings(sets, day(30))
    assert found.number("gain") == pytest.approx(195 / 175 - 1)
    assert set(found.set_keys) == {s.key for s in sets}
    assert held_findings(sets[:3], day(30)) == ()
    assert held_findings([*sets[:3], pull(20, 180, 1, straps=True)], day(30)) == ()


def test_the_flexible_bar_is_compared_per_style_with_its_range():
    sets = weekly(0, 6, 220) + weekly(1, 6, 228, bar="flexible") + weekly(2, 6, 180, style="sumo")
    (found,) = bar_comparisons(sets, day(45))
    assert found.difference_kg == pytest.approx(8, abs=0.5)
    assert found.low_kg < 8 < found.high_kg and found.style == "conventional"
    assert codes(bar_findings(sets, day(45))) == ["flexible-bar"]


def test_doubt_about_either_bar_widens_the_range_of_the_difference():
    sure = weekly(0, 8, 220) + weekly(1, 8, 228, bar="flexible")
    (both,) = bar_comparisons(sure, day(58))
    (first,) = bar_comparisons(sure[7:], day(58))
    (second,) = bar_comparisons(sure[:9], day(58))
    width = both.high_kg - both.low_kg
    assert first.high_kg - first.low_kg > width and second.high_kg - second.low_kg > width


def test_with_few_sets_the_bars_are_not_judged():
    sets = weekly(0, 6, 220) + weekly(1, 2, 228, bar="flexible")
    assert "Too few sets" in said(bar_findings(sets, day(45))[0].text)


def test_bars_are_not_compared_across_straps_or_start():
    sets = weekly(0, 6, 220) + weekly(1, 6, 228, bar="flexible", straps=True)
    assert bar_comparisons(sets, day(45)) == ()


def test_pull_time_by_style_and_share():
    sets = [pull(d, 180, 1, 9, style=s, pull_seconds=t) for d, (s, t) in enumerate([("sumo", 3.0), ("sumo", 3.4)])]
    sets += [pull(5, 180, 1, 9, pull_seconds=2.0), pull(6, 120, 1, 6, pull_seconds=1.0), missed(7, 190)]
    share = {s.key: s.load_kg / 200 for s in sets}
    assert pull_times(sets, share) == (("conventional", 0.9, 1.001, 2.0, 1), ("sumo", 0.9, 1.001, 3.2, 2))


def test_start_heights_rise_in_order_and_a_reversal_is_a_finding():
    block = {"start": "block", "bar": "stiff"}
    sets = weekly(0, 4, 200) + weekly(1, 4, 230, start_offset_m=0.2, **block)
    sets += weekly(2, 4, 190, start="deficit", start_offset_m=-0.05)
    series = start_heights(sets, day(40), "conventional")
    assert [s.height_m for s in series] == [-0.05, 0.0, 0.2]
    assert order_findings(series) == ()
    odd = start_heights(sets + weekly(3, 4, 195, start_offset_m=0.1, **block), day(40), "conventional")
    (found,) = order_findings(odd)
    assert found.code == "start-height-order" and found.weight == "note"
    assert found.number("lower_kg") > found.number("higher_kg")
