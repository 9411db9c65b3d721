"""The front door: one body, several styles, ranges, sweeps, comparisons."""

import math

import numpy as np
import pytest

from analysis.core.leverages.report import (
    DEFAULT_SETUPS,
    average_body,
    leverage_report,
    stance_sweep,
    usual_stances,
    with_arm_changed,
)
from analysis.core.pull.setups import filled_setup
from analysis.core.records.bodies import BodyInput
from analysis.core.records.plain import ImplausibleMeasurement
from analysis.core.records.postures import HABITS, Known
from analysis.core.records.pulls import EXTRA_KEYS, JOINTS, QUANTITY_KEYS, SetupInput

MAN = BodyInput("m", {"stature": 1.78, "mass": 85.0})


@pytest.fixture(scope="module")
def report():
    return leverage_report(MAN)


def test_every_style_has_every_quantity_with_its_range(report):
    assert [style.name for style in report.styles] == ["conventional", "sumo", "wide-sumo", "rounded"]
    for style in report.styles:
        assert style.knee is not None
        for moment in (style.lift_off, style.knee, style.lockout):
            assert set(moment) == {*QUANTITY_KEYS, *EXTRA_KEYS}
            assert all(one.low <= one.value <= one.high for one in moment.values())
        assert set(style.joints) == set(JOINTS)
        assert all(places.shape == (61, 3) for places in style.joints.values())


def test_the_drawn_joints_are_the_links(report):
    joints = report.style("sumo").joints
    body = report.body
    for near, far, link in (("ankle", "knee", "shank"), ("knee", "hip", "thigh")):
        length = np.linalg.norm(joints[far] - joints[near], axis=1)
        np.testing.assert_allclose(length, body.link(link).value, atol=1e-6)
    np.testing.assert_allclose(np.linalg.norm(joints["toe"] - joints["heel"], axis=1), body.link("foot").value)


def test_measuring_more_narrows_the_ranges(report):
    measured = {
        **MAN.measured_m,
        "acromial_height": 1.46,
        "trochanterion_height": 0.915,
        "tibiale_height": 0.476,
        "lateral_malleolus_height": 0.073,
        "standing_grip_height": 0.787,
        "foot_length": 0.274,
    }
    exact = filled_setup(SetupInput())
    known = SetupInput(**{key: getattr(exact, key) for key in HABITS})
    better, plain = (leverage_report(body, [known]) for body in (BodyInput("m", measured), MAN))
    assert _width(better, "hip_flexion_deg") < 0.8 * _width(plain, "hip_flexion_deg")
    assert better.grip_check is not None
    assert better.grip_check.agrees


def _width(one, key, style="conventional"):
    found = one.style(style).lift_off[key]
    return found.high - found.low


def test_habits_that_nobody_looked_at_are_in_every_range(report):
    """Ranges with exact habits are of the body alone; people's habits make them wider, above all in sumo."""
    for style in ("conventional", "sumo"):
        exact = filled_setup(SetupInput(style), usual_stances(MAN))
        known = leverage_report(MAN, [SetupInput(style, **{key: getattr(exact, key) for key in HABITS})])
        assert _width(report, "hip_bar_distance_m", style) > 1.5 * _width(known, "hip_bar_distance_m", style)
        assert known.style(style).lift_off["hip_bar_distance_m"].value == pytest.approx(
            report.style(style).lift_off["hip_bar_distance_m"].value
        )
        assert report.style(style).known is Known.HABITS


def test_a_stance_by_tape_narrows_the_difference_between_the_styles(report):
    """Section on habits: 5.3 cm of spread from people's habits, 4.0 with stance and toe-out."""

    def spread(one):
        away = one.style("sumo").draws["hip_bar_distance_m"] - one.style("conventional").draws["hip_bar_distance_m"]
        return np.nanstd(away[1:])

    asked = [
        SetupInput("conventional", stance_m=0.32, turnout_rad=math.radians(14)),
        SetupInput("sumo", stance_m=0.70, turnout_rad=math.radians(42)),
    ]
    tape = leverage_report(MAN, asked, draws=600)
    habits = leverage_report(MAN, [SetupInput(), SetupInput("sumo")], draws=600)
    assert 0.04 < spread(habits) < 0.07
    assert spread(tape) < 0.85 * spread(habits)


def test_an_impossible_style_has_its_error_and_leaves_the_others_alone():
    found = leverage_report(MAN, [SetupInput(), SetupInput("sumo", stance_m=1.7), SetupInput(stance_m=math.nan)])
    assert found.styles[0].error is None
    assert found.styles[1].error is not None and found.styles[1].error.quantity == "stance"
    assert found.styles[2].error is not None and found.styles[2].setup is None
    assert found.styles[0].lift_off


def test_a_block_pull_above_the_knee_has_no_knee_event():
    style = leverage_report(MAN, [SetupInput(start_offset_m=0.35)]).styles[0]
    assert style.error is None
    assert style.knee is None
    assert style.range_of_motion_m.value < 0.25


def test_a_bending_bar_lifts_off_higher_and_locks_out_at_the_same_height():
    stiff, flexible = leverage_report(MAN, [SetupInput(bar="unknown"), SetupInput(bar="flexible")]).styles
    assert flexible.lift_off["z_m"].value == pytest.approx(0.225 + flexible.bar_rise_m)
    assert flexible.bar_rise_m > 0.015 and stiff.bar_rise_m == 0.0
    assert flexible.lockout_height_m.value == pytest.approx(stiff.lockout_height_m.value, abs=5e-4)
    assert flexible.pull["carried_load_kg"][0] == 0.0
    assert stiff.pull["carried_load_kg"][0] == 200.0


@pytest.mark.parametrize("load", [-1.0, math.nan, math.inf, 1e6])
def test_a_load_nobody_lifts_is_refused(load):
    with pytest.raises(ImplausibleMeasurement, match="load"):
        leverage_report(MAN, load_kg=load)


def test_children_and_giants_work_and_are_warned_about():
    child = leverage_report(BodyInput("f", {"stature": 1.35, "mass": 32.0}, age=11), load_kg=30.0)
    giant = leverage_report(BodyInput("m", {"stature": 2.20, "mass": 150.0}), load_kg=300.0)
    assert child.style("conventional").error is None and giant.style("conventional").error is None
    assert any("Under 18" in warning for warning in child.warnings)
    assert any("outside" in warning for warning in giant.warnings)


def test_an_average_body_of_the_same_stature_is_between_its_neighbours():
    motions = [
        leverage_report(average_body("m", stature)).style("conventional").range_of_motion_m.value
        for stature in (1.68, 1.78, 1.88)
    ]
    assert motions == sorted(motions)
    assert motions[2] - motions[0] == pytest.approx(0.08, abs=0.03)  # 3-5 cm per 10 cm of stature: geometry


def test_longer_arms_in_the_what_if_shorten_the_pull(report):
    longer = leverage_report(with_arm_changed(MAN, 1.05)).style("conventional")
    plain = report.style("conventional")
    assert longer.range_of_motion_m.value < plain.range_of_motion_m.value - 0.02
    assert longer.lift_off["trunk_angle_deg"].value > plain.lift_off["trunk_angle_deg"].value
    with pytest.raises(ImplausibleMeasurement, match="arm"):
        with_arm_changed(MAN, 2.0)


def test_the_sweep_runs_from_narrow_to_the_widest_reachable_stance():
    sweep = stance_sweep(MAN, n=13)
    assert len(sweep.stances_m) == 13
    assert sweep.stances_m[-1] == sweep.widest_m
    assert 0.85 < sweep.widest_m < 1.3
    motion = [one.value for one in sweep.values["range_of_motion_m"]]
    assert motion[-1] < 0.85 * motion[0]
    beyond = leverage_report(MAN, [SetupInput("sumo", stance_m=sweep.widest_m + 0.1, turnout_rad=math.radians(45))])
    assert beyond.styles[0].error is not None


def test_a_taller_body_reaches_a_wider_stance():
    short, tall = (stance_sweep(average_body("f", stature), n=3, draws=20).widest_m for stature in (1.55, 1.75))
    assert tall > short + 0.05


def test_defaults_are_the_four_styles():
    assert [asked.preset for asked in DEFAULT_SETUPS] == ["conventional", "sumo", "wide-sumo", "rounded"]
