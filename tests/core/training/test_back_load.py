"""Lower-back load: sums that add up, days against windows, signs that go together, no ratio and no forecast."""

from dataclasses import fields

import numpy as np
import pytest

from analysis.core.records.estimates import BackLoad
from analysis.core.settings import layered
from analysis.core.training.back_load import BACK_LIFTS, back_load
from tests.core.logbook import day, missed, note, pull
from tests.said import said


def view(sets, moment=300.0, share=0.7, days=(), as_of=60, **more):
    return back_load(sets, moment, share, days, day(as_of), **more)


def test_the_load_is_moment_times_reps_over_four_weeks():
    sets = [pull(50, 150, 5, 8), pull(55, 150, 3, 8), pull(20, 150, 4, 8)]
    found = view(sets, [300.0, 320.0, 280.0])
    assert found.last_28_nm == pytest.approx(5 * 300 + 3 * 320)
    assert found.before_28_nm == pytest.approx(4 * 280)


def test_weeks_sum_to_the_four_week_load_and_lifts_too():
    rng = np.random.default_rng(4)
    lifts = rng.choice(BACK_LIFTS, 60)
    sets = [pull(int(d), 100, 3, 8, lift=str(lift)) for d, lift in zip(rng.integers(0, 61, 60), lifts, strict=True)]
    found = view(sets, rng.uniform(100, 400, 60))
    assert sum(load for _, load in found.weeks[-4:]) == pytest.approx(found.last_28_nm)
    assert sum(load for _, load in found.weeks[-8:-4]) == pytest.approx(found.before_28_nm)
    assert sum(load for _, load in found.by_lift_28_nm) == pytest.approx(found.last_28_nm)


def test_squats_rows_and_good_mornings_count_and_bench_does_not():
    sets = [pull(55, 100, 5, 8, lift=lift) for lift in ("squat", "row", "good-morning", "bench")]
    found = view(sets)
    assert {lift for lift, _ in found.by_lift_28_nm} == {"squat", "row", "good-morning"}
    assert found.sets_counted == 3


def test_a_missed_rep_was_still_held():
    assert view([missed(55, 200)]).last_28_nm == pytest.approx(300)


def test_sets_without_a_modelled_moment_are_counted_apart():
    found = view([pull(55, 100, 5, 8), pull(56, 100, 5, 8, lift="row")], [300.0, np.nan])
    assert (found.sets_counted, found.sets_without_moment) == (1, 1)
    assert found.last_28_nm == pytest.approx(1500)


def test_since_the_last_heavy_pull_only_later_sets_count():
    sets = [pull(40, 200, 1, 9), pull(45, 140, 4, 8), pull(50, 120, 5, 8, lift="squat")]
    found = view(sets, [500.0, 350.0, 200.0], [0.95, 0.7, 0.6])
    assert found.since_heavy_nm == pytest.approx(4 * 350 + 5 * 200)
    assert found.spacing[0].days_since == 20


def test_load_relative_to_the_lifters_own_trunk():
    assert view([pull(55, 150, 5, 8)], trunk_capacity_nm=600.0).capacity_reps_28 == pytest.approx(2.5)
    assert view([pull(55, 150, 5, 8)]).capacity_reps_28 is None


@pytest.mark.parametrize(
    ("style", "last", "place"),
    [
        ("conventional", 57, "sooner"),
        ("conventional", 50, "inside"),
        ("conventional", 40, "longer"),
        ("sumo", 57, "sooner"),
        ("sumo", 54, "inside"),
        ("wide-sumo", 50, "longer"),
    ],
)
def test_days_since_heavy_against_the_window_of_the_style(style, last, place):
    found = view([pull(last, 200, 1, 9, style=style)], share=0.95).spacing[0]
    assert (found.place, found.days_since) == (place, 60 - last)


def test_windows_are_settings():
    wide = layered({"load.window_sumo_high": 14})
    found = back_load([pull(50, 200, 1, 9, style="sumo")], 300.0, 0.95, (), day(60), wide)
    assert found.spacing[0].place == "inside"


def test_no_heavy_pull_is_no_date():
    found = view([pull(50, 140, 3, 8)], share=0.7)
    assert found.spacing[0].place == "none" and found.spacing[0].last_day is None
    assert found.since_heavy_nm == found.last_28_nm


RISE = [pull(10, 150, 5, 7), pull(17, 150, 5, 7), *[pull(d, 150, 5, 7) for d in (35, 42, 49, 56)]]


def test_a_rise_alone_is_a_note_with_company_a_caution():
    assert [f.weight for f in view(RISE).findings if f.code == "load-up"] == ["note"]
    sore = view(RISE, days=[note(57, 6), note(58, 7)])
    rise = next(f for f in sore.findings if f.code == "load-up-with-signs")
    assert rise.weight == "caution" and rise.number("more_nm") == pytest.approx(10 * 300)
    assert "Sore" in said(rise.text)


def test_a_rise_with_effort_creep_names_the_rows():
    sets = [*RISE, pull(15, 170, 3, 7, key="then"), pull(58, 170, 3, 8.5, key="now")]
    rise = next(f for f in view(sets).findings if f.code == "load-up-with-signs")
    assert {"then", "now"} <= set(rise.set_keys) and "170 kg x 3" in said(rise.text)


def test_soreness_without_a_rise_stands_alone():
    codes = {f.code for f in view(RISE[:2] * 3, days=[note(57, 6)]).findings}
    assert "sore-days" in codes and not codes & {"load-up", "load-up-with-signs"}


def test_two_heavy_pulls_close_together_are_noted_for_either_style():
    sets = [pull(50, 200, 1, 9, key="a"), pull(53, 200, 1, 9, key="b")]
    gap = next(f for f in view(sets, share=0.95).findings if f.code == "short-gap")
    assert gap.number("gap") == 3 and gap.set_keys == ("b",)


def test_the_contrary_findings_and_the_limits_always_stand_beside_it():
    for sets in ([], RISE):
        codes = [f.code for f in view(sets).findings]
        assert codes[-3:] == ["belcher-2019", "erectors-equal", "no-forecast"]
    assert "not predict injury" in said(view([]).findings[-1].text)


def test_no_ratio_is_reported():
    assert not [f.name for f in fields(BackLoad) if "ratio" in f.name]
    assert not any("ratio" in name for f in view(RISE).findings for name, _ in f.numbers)
