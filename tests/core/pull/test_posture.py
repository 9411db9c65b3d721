"""One posture: links keep their length, the bar clears the leg, impossible setups are told."""

import dataclasses
import math

import numpy as np
import pytest

from analysis.core.body.anthropometry import population_bodies
from analysis.core.pull.checks import reference_body
from analysis.core.pull.habits import usual_stance
from analysis.core.pull.posture import rear_meeting, spinal_bend
from analysis.core.pull.pull import impossible, postures_at, problem_of, pull_postures, rig_of
from analysis.core.pull.setups import DEFAULT_SETUPS, filled_setup, setup_arrays, usual_stances
from analysis.core.records.plain import ImpossibleStance, UnknownKey
from analysis.core.records.pulls import SetupInput

SQUAD = population_bodies("m", 60, 4)


@pytest.fixture(scope="module")
def pull():
    r, p = pull_postures(SQUAD, setup_arrays([filled_setup(asked) for asked in DEFAULT_SETUPS]))
    return r, p, problem_of(r, p) == 0


def test_links_keep_their_length(pull):
    r, p, possible = pull
    shank = np.sqrt(p.knee_x**2 + (p.knee_y - p.ankle_y) ** 2 + (p.knee_z - p.ankle_z) ** 2)
    thigh = np.sqrt((p.hip_x - p.knee_x) ** 2 + (p.hip_y - p.knee_y) ** 2 + (p.hip_z - p.knee_z) ** 2)
    np.testing.assert_allclose(shank[possible], np.broadcast_to(r.body.shank, p.z.shape)[possible], atol=1e-7)
    np.testing.assert_allclose(thigh[possible], np.broadcast_to(r.body.thigh, p.z.shape)[possible], atol=1e-7)
    lower = np.hypot(p.mid_x - p.hip_x, p.mid_z - p.hip_z)
    upper = np.hypot(p.shoulder_x - p.mid_x, p.shoulder_z - p.mid_z)
    np.testing.assert_allclose((lower + upper)[possible], np.broadcast_to(r.body.trunk, p.z.shape)[possible], atol=1e-7)


def test_spinal_flexion_is_the_angle_between_the_two_trunk_links(pull):
    _, p, possible = pull
    lower = np.arctan2(p.mid_z - p.hip_z, p.mid_x - p.hip_x)
    upper = np.arctan2(p.shoulder_z - p.mid_z, p.shoulder_x - p.mid_x)
    np.testing.assert_allclose((lower - upper)[possible], p.spinal_flexion[possible], atol=1e-7)


def test_the_bar_never_enters_the_leg(pull):
    """Distance of the bar to the shank below the knee is the shin's half-depth and the bar's radius, or more."""
    r, p, possible = pull
    below = (p.z < r.knee_z) & possible[..., None]
    along = np.hypot(p.knee_x, p.knee_z - p.ankle_z)
    distance = (p.bar_x * (p.knee_z - p.ankle_z) - (p.z - p.ankle_z) * p.knee_x) / along
    assert distance[below].min() >= 0.040 + 0.0145 - 1e-9
    thigh = np.hypot(p.hip_x - p.knee_x, p.hip_z - p.knee_z)
    ahead = ((p.bar_x - p.knee_x) * (p.hip_z - p.knee_z) - (p.z - p.knee_z) * (p.hip_x - p.knee_x)) / thigh
    well_above = (p.z > r.knee_z + 0.08) & possible[..., None]
    assert ahead[well_above].min() >= 0.065 + 0.0145 - 1e-6


def test_circles_that_touch_meet_and_circles_apart_do_not():
    zero, one = np.zeros(1), np.ones(1)
    x, z = rear_meeting(zero, zero, one, zero, 2 * one, one)
    assert (x[0], z[0]) == pytest.approx((0.0, 1.0), abs=1e-6)
    with np.errstate(invalid="ignore"):
        assert np.isnan(rear_meeting(zero, zero, one, zero, 3 * one, one)[0][0])
    x, z = rear_meeting(zero, zero, one, zero, one, one)
    assert x[0] == pytest.approx(-math.sqrt(3) / 2)  # behind


def test_the_spine_is_straight_at_lockout_and_bent_to_a_third_of_the_pull():
    setups = setup_arrays([filled_setup(SetupInput("rounded"))])
    bend = spinal_bend(setups, np.array([0.0, 0.35, 0.675, 1.0]))
    np.testing.assert_allclose(np.degrees(bend), [40.0, 40.0, 20.0, 0.0], atol=1e-9)


@pytest.mark.parametrize(
    ("asked", "quantity"),
    [
        (SetupInput("sumo", stance_m=1.75), "stance"),
        (SetupInput("sumo", stance_m=1.2), "stance"),
        (SetupInput(start_height_m=0.9), "start height"),
        (SetupInput(hand_spacing_m=1.31), "start height"),
    ],
)
def test_what_a_body_cannot_do_is_a_typed_error_that_names_it(asked, quantity):
    setup = filled_setup(asked)
    r, p = pull_postures(reference_body(), setup_arrays([setup]))
    problem = int(problem_of(r, p)[0, 0])
    if quantity == "start height" and asked.hand_spacing_m:
        assert problem == 0  # hands at the collars are possible for a man of 1.78 m, with a longer pull
        return
    assert problem > 0
    assert impossible(problem, setup.stance_m).quantity == quantity


@pytest.mark.parametrize(
    ("change", "quantity"),
    [
        ({"stance_m": float("nan")}, "stance_m"),
        ({"stance_m": -0.1}, "stance_m"),
        ({"stance_m": 3.0}, "stance_m"),
        ({"turnout_rad": 2.0}, "turnout_rad"),
        ({"hand_spacing_m": 1.5}, "hand_spacing_m"),
        ({"sole_m": 0.3}, "sole_m"),
        ({"start_offset_m": -0.3}, "start_height_m"),
        ({"disc_diameter_m": 0.9}, "disc_diameter_m"),
        ({"spinal_flexion_rad": -0.1}, "spinal_flexion_rad"),
        ({"bar_diameter_m": 0.0}, "bar_diameter_m"),
        ({"shin_gap_m": -0.01}, "shin_gap_m"),
        ({"drift_m": 0.2}, "drift_m"),
        ({"lead_rad": 1.0}, "lead_rad"),
        ({"bar_ahead_m": 0.1}, "bar_ahead_m"),
    ],
)
def test_settings_that_cannot_be_are_refused_by_name(change, quantity):
    with pytest.raises(ImpossibleStance) as refused:
        filled_setup(SetupInput(**change))
    assert refused.value.quantity == quantity


def test_unknown_style_and_bar_are_refused_by_name():
    with pytest.raises(UnknownKey, match="style"):
        filled_setup(SetupInput("frog"))
    with pytest.raises(UnknownKey, match="bar"):
        filled_setup(SetupInput(bar="rubber"))


def test_presets_are_the_published_stances_escamilla_2000():
    """70 cm is the mean of men whose shank and thigh measure 0.828 m (ANSUR II): 0.84 of the leg."""
    conventional, sumo = filled_setup(SetupInput()), filled_setup(SetupInput("sumo"))
    assert (conventional.stance_m, conventional.hand_spacing_m) == (0.32, 0.55)
    assert (sumo.stance_m, sumo.hand_spacing_m) == (pytest.approx(0.70, abs=0.005), 0.47)
    assert [round(math.degrees(s.turnout_rad)) for s in (conventional, sumo)] == [14, 42]
    spread = [[math.sqrt(s.covariance[at][at]) for at in (0, 1)] for s in (conventional, sumo)]
    np.testing.assert_allclose(spread, [[0.08, math.radians(6)], [0.11, math.radians(8)]], rtol=1e-9)


def test_the_stance_of_sumo_goes_by_the_leg_unless_one_is_asked_for():
    one = SQUAD.rows(slice(0, 1))
    leg, stances = float(one.shank[0] + one.thigh[0]), usual_stances(one)
    assert stances["sumo"] == pytest.approx(0.84 * leg)
    assert stances["wide-sumo"] == pytest.approx(1.08 * leg)
    assert stances["conventional"] == 0.32
    asked = filled_setup(SetupInput("sumo", stance_m=0.62), stances)
    assert (asked.stance_m, asked.stance_by_body, asked.covariance[0][0]) == (0.62, False, 0.0)
    arrays = setup_arrays([filled_setup(SetupInput("sumo")), asked], SQUAD)
    assert arrays.stance[0, 0] == pytest.approx(stances["sumo"])
    np.testing.assert_allclose(arrays.stance[:, 1], 0.62)


def test_nobody_is_stood_under_the_discs_or_sat_below_the_knees():
    """Over 2,000 men: shoes inside the collars, and thighs at lift-off hardly below level, in 99 of 100."""
    bodies = population_bodies("m", 2000, 8)
    wide = usual_stance("wide-sumo", bodies)
    toe = wide / 2 + 0.81 * bodies.foot * math.sin(math.radians(45)) + 0.05 * math.cos(math.radians(45))
    assert toe.max() <= 1.31 / 2 + 1e-9
    assert (wide < 1.08 * (bodies.shank + bodies.thigh) - 1e-6).mean() < 0.4
    r = rig_of(bodies, setup_arrays([filled_setup(SetupInput(s)) for s in ("sumo", "wide-sumo")], bodies))
    p = postures_at(r, r.setups.start_height + 0.0 * r.knee_z)
    lowest = np.percentile(np.degrees(p.thigh_angle[..., 0]), 1.0, axis=0)
    assert lowest[0] > 0.0 and lowest[1] > -12.0


def test_a_setup_can_be_changed_in_every_setting():
    changed = {
        "stance_m": 0.5, "turnout_rad": 0.4, "hand_spacing_m": 0.5, "spinal_flexion_rad": 0.3, "sole_m": 0.02,
        "start_height_m": 0.3, "disc_diameter_m": 0.4, "bar_diameter_m": 0.028, "bar_span_m": 1.3,
        "arm_ahead_rad": 0.1, "bar_ahead_m": 0.01, "shin_gap_m": 0.0, "girdle_m": 0.04, "drift_m": 0.03,
        "lead_rad": 0.05, "arms_at_knee_rad": 0.02,
    }  # fmt: skip
    setup = dataclasses.asdict(filled_setup(SetupInput(**changed)))
    assert {key: setup[key] for key in changed} == changed
