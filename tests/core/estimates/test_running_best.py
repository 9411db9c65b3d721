"""The running best: a filtered level per kind, with a band that is honest and grows with silence."""

from datetime import timedelta

import numpy as np
import pytest

from analysis.core.estimates.one_rep_max import estimate
from analysis.core.estimates.running_best import basis, level_on, running_best, running_bests, sd_on
from analysis.core.records.lifts import PullTags, SetRecord
from analysis.core.records.plain import NotEnoughEvidence
from analysis.core.settings import layered
from tests.core.logbook import day, missed, pull, weekly


def test_unlike_pulls_have_bests_of_their_own():
    sets = weekly(0, 4, 200) + weekly(1, 6, 160, style="sumo") + weekly(2, 3, 215, bar="flexible")
    bests = running_bests(sets, day(60))
    assert sorted(round(b.now_kg) for b in bests.values()) == [160, 200, 215]
    assert next(iter(bests.values())).day_count == 6


def test_misses_change_nothing():
    sets = weekly(0, 5, 200)
    assert running_best(sets, day(40)).now_kg == running_best([*sets, missed(35, 205), missed(36, 170)], day(40)).now_kg


def test_it_is_not_the_maximum_of_noisy_estimates():
    sets = [*weekly(0, 8, 200), pull(57, 195, 3, 9)]  # points to about 219 kg
    best = running_best(sets, day(58))
    assert max(p.estimate_kg for p in best.points) > 215
    assert 200 < best.now_kg < 210


def test_a_real_single_replaces_the_estimates_of_its_day_and_is_marked():
    both = [pull(0, 180, 3, 9), pull(0, 190, 1, 10)]
    best = running_best(both, day(0))
    assert best.now_kg == pytest.approx(190)
    assert best.best_single.load_kg == 190 and len(best.singles) == 1
    assert running_best(both[:1], day(0)).best_single is None


def test_later_sets_do_not_reach_back_over_the_as_of_date():
    sets = weekly(0, 10, 200) + weekly(70, 4, 240)
    assert running_best(sets, day(65)).now_kg == pytest.approx(200)
    assert running_best(sets, day(100)).now_kg > 215


def test_the_band_grows_with_days_without_a_set():
    sets = weekly(0, 6, 200)
    widths = [running_best(sets, day(d)).range_kg for d in (35, 60, 120, 240)]
    spans = [high - low for low, high in widths]
    assert spans == sorted(spans) and spans[3] > 1.5 * spans[0]
    assert running_best(sets, day(240)).now_kg == pytest.approx(running_best(sets, day(35)).now_kg)


def test_many_sets_of_one_day_do_not_narrow_the_band():
    one = running_best([pull(0, 180, 3, 8)], day(0))
    five = running_best([pull(0, 180, 3, 8) for _ in range(5)], day(0))
    assert one.sd_log == pytest.approx(five.sd_log)


def test_nothing_usable_says_what_would_help():
    with pytest.raises(NotEnoughEvidence, match="1 to 8 reps at RPE 7"):
        running_best([missed(0, 200), pull(1, 100, 12, 10)], day(5))


def test_light_days_without_noted_effort_do_not_drag_the_level_down():
    heavy = [pull(d, 200, 1, 9.5) for d in (0, 14, 28)]
    light = [pull(d, 130, 3) for d in (7, 21, 35)]
    best = running_best(heavy + light, day(36))
    assert best.now_kg == pytest.approx(200, abs=1)
    assert {e.key for e in best.unused} == {s.key for s in light}
    assert all("light day" in e.reason for e in best.unused)


def test_warm_ups_without_noted_effort_are_left_out_and_the_top_set_is_used_with_its_assumption():
    ramp = [pull(0, load, 1) for load in (100, 140, 170, 190)]
    best = running_best(ramp, day(0))
    assert [p.key for p in best.points] == [ramp[-1].key]
    assert "assumed" in best.points[0].reason and len(best.unused) == 3


def test_every_set_is_either_a_point_or_unused_with_a_reason():
    sets = [pull(d, 150 + d, 1 + d % 9, rpe) for d, rpe in zip(range(30), [6, 7, 8, None, 9.5] * 6, strict=True)]
    best = running_best(sets, day(40))
    assert {e.key for e in (*best.points, *best.unused)} == {s.key for s in sets}
    assert all(e.reason for e in best.unused)


def test_the_level_of_a_day_is_read_from_before_it():
    best = running_best(weekly(0, 3, 200) + weekly(28, 3, 220), day(50))
    assert level_on(best, day(-1)) is None and sd_on(best, day(-1)) is None
    assert level_on(best, day(15)) == pytest.approx(200)
    assert sd_on(best, day(27)) > sd_on(best, day(14))


def test_a_wider_drift_setting_follows_faster():
    sets = weekly(0, 6, 200) + weekly(42, 2, 220)
    slow = running_best(sets, day(50), layered({"best.drift_4_weeks": 0.002}))
    fast = running_best(sets, day(50), layered({"best.drift_4_weeks": 0.08}))
    assert slow.now_kg < fast.now_kg


def test_the_band_holds_the_true_level_about_as_often_as_it_says():
    """300 simulated lifters of twenty irregular days with the formula's own noise: 80 % within 6 points."""
    rng = np.random.default_rng(20261125)
    hits = []
    for _ in range(300):
        days = np.cumsum(rng.integers(2, 14, 20))
        level = np.log(180) + np.cumsum(rng.normal(0, 0.02 * np.sqrt(np.diff(days, prepend=0) / 28)))
        best = running_best([_noisy_set(rng, d, v) for d, v in zip(days, level, strict=True)], day(int(days[-1])))
        hits.append(best.range_kg[0] <= np.exp(level[-1]) <= best.range_kg[1])
    assert 0.74 <= np.mean(hits) <= 0.88


def _noisy_set(rng, on, level):
    """A triple whose estimate carries the spread and the day's noise that the settings state."""
    value = np.exp(level + rng.normal(0, np.hypot(0.05 / 1.2816, 0.019)))
    load = value / estimate(1.0, 5)
    tags = PullTags(style="sumo")
    return SetRecord(f"d{on}", day(int(on)), float(load), 3, 3, tags, rir_low=2.0, rir_high=2.0)


def test_the_as_of_date_is_shown_once():
    sets = weekly(0, 3, 200)
    assert running_best(sets, day(14)).days == (day(0), day(7), day(14))
    assert running_best(sets, day(15)).days[-1] - day(14) == timedelta(days=1)


def test_the_caption_says_what_is_held_and_how_many_sets_it_rests_on():
    sets = [*weekly(0, 3, 200), missed(1, 205), pull(0, 170, 3, 8)]
    words = "conventional, floor, stiff bar, mixed grip, no straps: 4 sets on 3 days, 1 not used"
    assert basis(running_best(sets, day(20))) == words
