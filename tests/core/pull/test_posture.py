"""One posture: links keep their length, the bar clears the leg, impossible setups are told."""

import dataclasses
import math

import numpy as np
import pytest

from analysis.core.body.anthropometry import population_bodies
from analysis.core.pull.checks import reference_body
from analysis.core.pull.posture import rear_meeting, spinal_bend
from analysis.core.pull.pull import impossible, problem_of, pull_postures
from analysis.core.pull.setups import DEFAULT_SETUPS, filled_setup, setup_arrays
from analysis.core.records.errors import ImpossibleStance, UnknownKey
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


def test_the_spine_is_straight_at_lockout_and_bent_to_half_way():
    setups = setup_arrays([filled_setup(SetupInput("rounded"))])
    bend = spinal_bend(setups, np.array([0.0, 0.5, 0.75, 1.0]))
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
    conventional, sumo = filled_setup(SetupInput()), filled_setup(SetupInput("sumo"))
    assert (conventional.stance_m, conventional.hand_spacing_m) == (0.32, 0.55)
    assert (sumo.stance_m, sumo.hand_spacing_m) == (0.70, 0.47)
    assert [round(math.degrees(s.turnout_rad)) for s in (conventional, sumo)] == [14, 42]


def test_a_setup_can_be_changed_in_every_setting():
    changed = {
        "stance_m": 0.5, "turnout_rad": 0.4, "hand_spacing_m": 0.5, "spinal_flexion_rad": 0.3, "sole_m": 0.02,
        "start_height_m": 0.3, "disc_diameter_m": 0.4, "bar_diameter_m": 0.028, "bar_span_m": 1.3,
    }  # fmt: skip
    setup = dataclasses.asdict(filled_setup(SetupInput(**changed)))
    assert {key: setup[key] for key in changed} == changed
