"""Lower-back review: moments by hand, lines in the load, styles and lifts in the published order, marks, no ratio."""

from dataclasses import fields, replace
from itertools import pairwise

import numpy as np
import pytest

from analysis.core.body.anthropometry import drillis_body
from analysis.core.body.body import CERVICALE_TO_MID_HIP, DE_LEVA, MID_SHOULDER_TO_MID_HIP, arm_lump, trunk_lumps
from analysis.core.body.constants import L4L5
from analysis.core.pull.hinge import HINGES, hinge_moment
from analysis.core.pull.moments import moments_of
from analysis.core.pull.pull import pull_postures
from analysis.core.pull.setups import filled_setup, setup_arrays
from analysis.core.records.lifts import LifterRecord
from analysis.core.records.plain import CoreError, UnknownKey
from analysis.core.records.pulls import SetupInput
from analysis.core.records.training import BackReview
from analysis.core.records.weak_link import StrengthRange
from analysis.core.settings import DEFAULTS
from analysis.core.training.back_load_review import (
    back_load_review,
    heavy_pulls,
    in_capacity_reps,
    left_out,
    set_moments,
    trunk_capacity,
)
from tests.core.logbook import day, missed, note, pull, weekly
from tests.said import said

BODY = drillis_body("m", 1.78, 85.0)


def lifter(sets, days=(), **more):
    return LifterRecord(
        "one", "m", 25.0, "trained", {"stature": 1.78, "mass": 85.0}, sets=tuple(sets), days=days, **more
    )


def moments(*sets):
    return set_moments(sets, BODY, None)


def test_a_deadlifts_moment_is_the_greatest_of_the_mechanics_over_the_pull():
    setups = setup_arrays([filled_setup(SetupInput(preset=s)) for s in ("conventional", "sumo")], BODY)
    rig, postures = pull_postures(BODY, setups, 301)
    line = moments_of(rig.body, rig.setups, postures, 0.5).l4l5
    direct = np.nanmax(line.at(180.0), axis=-1)[0]
    assert moments(pull(0, 180.0), pull(0, 180.0, style="sumo")) == pytest.approx(direct, rel=0.005)


def test_a_deadlifts_moment_is_a_line_in_the_load():
    light, middle, heavy = moments(pull(0, 100.0), pull(0, 150.0), pull(0, 200.0))
    assert middle == pytest.approx((light + heavy) / 2, rel=1e-3)


def test_sumo_asks_less_of_l4l5_than_conventional_by_about_a_tenth():
    """Cholewicki, McGill and Norman 1991: 10 % less; the band of the mechanics' checks is 0.80-0.97."""
    conventional, sumo = moments(pull(0, 200.0), pull(0, 200.0, style="sumo"))
    assert 0.80 <= sumo / conventional <= 0.97


def test_blocks_ask_less_the_higher_they_are_and_a_deficit_what_the_floor_asks():
    """The greatest moment lies low in the pull, at mid-shin: a block above it cuts it off, a deficit adds nothing."""
    offsets = (-0.05, 0.0, 0.10, 0.18, 0.32)
    deficit, *rest = moments(*(pull(0, 180, start_offset_m=offset) for offset in offsets))
    assert all(higher < lower for lower, higher in pairwise(rest))
    assert deficit == pytest.approx(rest[0], rel=0.01)


def test_a_back_raise_by_hand():
    """Trunk level: g times trunk length times each mass times its distance from L4/L5."""
    line = hinge_moment(BODY, "back-raise")
    trunk, mass = float(BODY.trunk[0]), 85.0
    parts = [(arm_lump("m").mass, 0.75), *((lump.mass, lump.place) for lump in trunk_lumps("m")[1:])]
    own = 9.80665 * trunk * mass * sum(m * (at - L4L5) for m, at in parts)
    assert float(line.b[0]) == pytest.approx(own)
    assert float(line.a[0]) == pytest.approx(9.80665 * trunk * (0.75 - L4L5))


def test_the_bodys_own_part_agrees_with_de_levas_segments_laid_out_level():
    """A second road: head, upper and middle trunk at their own places of the table, arms at the load; within 5 %.

    The middle trunk counts from L4/L5 up only in part in the model, hence the margin.
    """
    table, unit, trunk = DE_LEVA["m"], MID_SHOULDER_TO_MID_HIP["m"], float(BODY.trunk[0])
    navel = table["lower trunk"].length
    xiphion = navel + table["middle trunk"].length
    top = xiphion + table["upper trunk"].length
    places = {
        "middle trunk": xiphion - table["middle trunk"].centre * table["middle trunk"].length,
        "upper trunk": top - table["upper trunk"].centre * table["upper trunk"].length,
        "head": CERVICALE_TO_MID_HIP["m"] + table["head"].length * (1.0 - table["head"].centre),
    }
    first = sum(table[name].mass * (at / unit - L4L5) for name, at in places.items())
    rough = 9.80665 * 85.0 * trunk * (first + arm_lump("m").mass * (0.75 - L4L5))
    assert float(hinge_moment(BODY, "back-raise").b[0]) == pytest.approx(rough, rel=0.05)


def test_lifts_in_the_order_of_their_lean():
    """The more level the trunk and the further the load, the more per kilogram."""
    a = {lift: float(hinge_moment(BODY, lift).a[0]) for lift in HINGES}
    assert a["romanian"] > a["good-morning"] > a["back-raise"] and a["romanian"] > a["row"]
    with pytest.raises(UnknownKey):
        hinge_moment(BODY, "bench")


def test_a_front_squat_asks_less_of_the_back_than_a_squat_of_the_same_load():
    back, front = moments(pull(0, 120, lift="squat", style=""), pull(0, 120, lift="front-squat", style=""))
    assert 0 < front < back


def test_what_has_no_model_is_left_out_and_said():
    sets = [pull(50, 150, bar="hex-low"), pull(50, 150, style=""), pull(50, 150)]
    found = moments(*sets)
    assert np.isnan(found[:2]).all() and found[2] > 0
    reasons = left_out(sets, found, day(52))
    assert len(reasons) == 2 and all(count == 1 for _, count in reasons)


def test_the_trunk_capacity_follows_the_logs_strength_of_the_back():
    usual, words = trunk_capacity(BODY, None, ())
    double, own = trunk_capacity(BODY, None, (StrengthRange("back", 4.2, 4.0, 4.4),))
    assert double == pytest.approx(2 * usual) and "calibration" in words and "this log" in own


def test_the_load_is_moment_times_reps_and_capacity_divides_it():
    sets = [pull(50, 150, 5, 8), pull(52, 100, 5, 8, lift="romanian", style="")]
    found = back_load_review(lifter(sets), day(55))
    direct = set_moments(sets, drillis_body("m", 1.78, 85.0), None)
    assert found.load.last_28_nm == pytest.approx(5 * direct.sum(), rel=0.15)  # filled links differ a little
    assert found.load.capacity_reps_28 == pytest.approx(found.load.last_28_nm / found.capacity_nm)
    assert sum(sum(nm for _, nm in w.by_lift) for w in found.weeks[-4:]) == pytest.approx(found.load.last_28_nm)
    assert any("romanian" in words for words in found.approximations)


def test_no_number_of_the_review_is_a_ratio_of_two_spans():
    names = {f.name for f in fields(BackReview)} | {
        f.name for f in fields(type(back_load_review(lifter([]), day(0)).load))
    }
    assert not any("ratio" in name or "acute" in name or "chronic" in name for name in names)


def test_a_rise_alone_is_a_note_and_with_signs_a_caution_with_its_rows():
    quiet = [pull(d, 100, 5, 7) for d in range(0, 28, 7)]
    loud = [pull(d, 100, 5, 7) for d in range(29, 56, 3)]
    alone = back_load_review(lifter(quiet + loud), day(55)).findings
    assert [(f.code, f.weight) for f in alone if f.code.startswith("load-up")] == [("load-up", "note")]
    harder = [replace(s, rir_low=1.0, rir_high=1.0) for s in loud]
    together = back_load_review(lifter(quiet + harder), day(55)).findings
    rise = next(f for f in together if f.code == "load-up-with-signs")
    assert rise.weight == "caution" and rise.set_keys and "RPE" in said(rise.text)


def test_soreness_is_a_finding_of_who_may_see_health_only():
    sore = lifter(weekly(0, 8, 150), tuple(note(d, 8) for d in (48, 52)))
    found, bare = (back_load_review(one, day(55)).findings for one in (sore, sore.without_health()))
    assert any(f.code == "sore-days" for f in found) and not any(f.code == "sore-days" for f in bare)


def test_without_mass_a_rise_is_told_in_reps_not_newton_metres():
    quiet, loud = [pull(d, 100, 5, 7) for d in range(0, 28, 7)], [pull(d, 100, 5, 9) for d in range(29, 56, 3)]
    found = back_load_review(lifter(quiet + loud), day(55))
    rise = next(f for f in found.findings if f.code.startswith("load-up"))
    told = in_capacity_reps(rise, found.capacity_nm)
    assert "N m" in said(rise.text) and "N m" not in said(told.text) and told.numbers == ()
    assert "full-capacity reps more" in said(told.text) and said(told.text).endswith(
        said(rise.text).partition("At the same time")[2]
    )


def test_heavy_pulls_are_days_with_gaps_by_style():
    sets = [pull(0, 180), pull(0, 170), pull(9, 178), pull(12, 160, style="sumo"), missed(20, 182)]
    shares = {s.key: s.load_kg / 190 for s in sets}
    found = heavy_pulls(sets, shares, day(30), DEFAULTS)
    assert [(h.style, h.gap_days, h.load_kg) for h in found] == [
        ("conventional", None, 180), ("conventional", 9, 178), ("conventional", 11, 182)
    ]  # fmt: skip


def test_an_empty_log_and_an_impossible_body():
    empty = back_load_review(lifter([]), day(0))
    assert empty.load.last_28_nm == 0 and empty.heavy == () and empty.findings == ()
    odd = replace(lifter([pull(0, 150)]), measurements_m={"stature": 17.8})
    with pytest.raises(CoreError):
        back_load_review(odd, day(1))
