"""The whole pull: feasible, never bending again, the same at a height however it is asked for."""

import math
from dataclasses import replace

import numpy as np
import pytest

from analysis.core.body.anthropometry import population_bodies
from analysis.core.body.constants import ARMS_PER_LEAD, GREATEST_SLOPE, LEAST_SLOPE
from analysis.core.pull.batch import squad_pulls
from analysis.core.pull.checks import reference_body
from analysis.core.pull.habits import HABIT_PRIORS
from analysis.core.pull.moments import moments_of
from analysis.core.pull.path import curve_of
from analysis.core.pull.pull import postures_at, problem_of, pull_postures, rig_of
from analysis.core.pull.setups import DEFAULT_SETUPS, drawn_setups, filled_setup, setup_arrays
from analysis.core.records.postures import HABITS
from analysis.core.records.pulls import SetupInput
from tests.measured_bodies import measured_bodies

STYLES = setup_arrays([filled_setup(asked) for asked in DEFAULT_SETUPS])


def _styles(bodies):
    """The four styles with stances by each body's leg."""
    return setup_arrays([filled_setup(asked) for asked in DEFAULT_SETUPS], bodies)


@pytest.mark.parametrize("links", ["rough", "filled"])
def test_all_61_heights_are_feasible_and_the_knees_straight_at_the_top(links):
    r, p = pull_postures(reference_body(links), STYLES)
    assert (problem_of(r, p) == 0).all()
    assert np.isfinite(p.hip_x).all()
    assert np.degrees(p.knee_flexion[..., -1]).max() < 1.0
    np.testing.assert_allclose(np.degrees(p.trunk_angle[..., -1]), 90.0, atol=0.5)


@pytest.mark.parametrize("sex", ["m", "f"])
def test_every_body_can_pull_in_every_style_and_never_bends_again(sex):
    """Hips and knees open at every step of the pull, in every style, to the last height."""
    bodies = population_bodies(sex, 200, 9)
    r, p = pull_postures(bodies, _styles(bodies))
    assert (problem_of(r, p) == 0).all()
    assert np.degrees(np.diff(p.knee_flexion, axis=-1)).max() < 0.0
    assert np.degrees(np.diff(p.hip_flexion, axis=-1)).max() < 0.05
    assert np.degrees(np.diff(p.hip_angle, axis=-1)).max() < 0.0


def test_measured_men_can_pull_in_every_style_and_never_bend_again():
    """24 men as measured (ANSUR II), not drawn from the table: real shares of leg, trunk and arm."""
    bodies = measured_bodies()
    r, p = pull_postures(bodies, _styles(bodies))
    assert len(bodies) == 24 and (problem_of(r, p) == 0).all()
    assert np.degrees(np.diff(p.knee_flexion, axis=-1)).max() < 0.0
    assert np.degrees(np.diff(p.hip_flexion, axis=-1)).max() < 0.05


@pytest.mark.parametrize("sex", ["m", "f"])
def test_with_drawn_habits_of_the_path_hardly_a_body_fails_or_bends_again(sex):
    """Drift, lead and arms drawn as among lifters: 99.5 % possible, 99.5 % bend by half a degree at most."""
    bodies = population_bodies(sex, 200, 10)
    exact = [replace(filled_setup(asked), covariance=_path_habits(asked.preset)) for asked in DEFAULT_SETUPS]
    r, p = pull_postures(bodies, drawn_setups(exact, bodies, 3))
    possible = problem_of(r, p) == 0
    assert possible.mean() >= 0.995
    rise = np.degrees(np.maximum(np.diff(p.knee_flexion, axis=-1), np.diff(p.hip_flexion, axis=-1))).max(axis=-1)
    assert (rise[possible] <= 0.5).mean() >= 0.995


def _path_habits(style):
    """Covariance of drift, lead and arms alone."""
    spread = np.array(HABIT_PRIORS[style].sd) * [key in PATH for key in HABITS]
    return tuple(map(tuple, np.diag(spread**2)))


PATH = ("arm_ahead_rad", "drift_m", "lead_rad", "arms_at_knee_rad")


def test_the_knees_never_rest_past_the_knee_and_no_joint_snaps():
    """Own bounds: 18 rad/m over 97 % of the pull; 6 rad in 1 - sqrt(1 - s), 17 in wide sumo."""
    bodies = population_bodies("m", 100, 12)
    r, p = pull_postures(bodies, _styles(bodies), 97)
    s = (p.z - p.z[..., :1]) / (p.z[..., -1:] - p.z[..., :1])
    early, past = s[..., 1:] < 0.97, p.z[..., 1:] > r.knee_z
    knee, hip = -np.diff(p.knee_flexion, axis=-1), np.abs(np.diff(p.hip_flexion, axis=-1))
    opening = knee / np.diff(p.z, axis=-1)
    assert opening[early & past].min() > 0.2
    assert opening[early].max() < 18.0 and (hip / np.diff(p.z, axis=-1))[early].max() < 18.0
    tau = 1.0 - np.sqrt(1.0 - s)
    rate = (np.maximum(knee, hip) / np.diff(tau, axis=-1)).max(axis=(0, 2))
    assert (rate < [6.0, 6.0, 17.0, 6.0]).all()


def test_the_root_on_the_curve_is_found_to_a_millionth_of_a_radian():
    """The hip angle of the posture against that of its place on the curve, 250 bodies x 4 styles."""
    bodies = population_bodies("f", 250, 13)
    r, p = pull_postures(bodies, _styles(bodies))
    curve = curve_of(r)
    miss = np.abs(p.hip_angle - curve.hip_at_lockout - _places(curve, p.knee_flexion / curve.knee) * curve.hip_range)
    past = p.z > r.knee_z
    assert miss[past].max() < 0.003
    assert (miss[past] < 1e-6).mean() > 0.99


def _places(curve, bent):
    """p with f(p) = bent, by bisection."""
    low, high = np.zeros_like(bent), np.ones_like(bent)
    for _ in range(50):
        middle = 0.5 * (low + high)
        over = curve.bend(middle) > bent
        low, high = np.where(over, low, middle), np.where(over, middle, high)
    return 0.5 * (low + high)


def test_the_curve_goes_on_from_the_shin_without_a_kink():
    """Slope of the knee over the hip angle 0.1 mm below and above the knee, where the slope is not at its bounds."""
    bodies = population_bodies("m", 60, 14)
    r = rig_of(bodies, _styles(bodies))
    at = np.array([-2e-4, -1e-4, 0.0, 1e-4, 2e-4])
    p = postures_at(r, r.knee_z + at)
    slope = np.diff(p.knee_flexion, axis=-1) / np.diff(p.hip_angle, axis=-1)
    k = curve_of(r).slope[..., 0]
    free = (k > LEAST_SLOPE) & (k < GREATEST_SLOPE)
    assert free[:, [0, 1, 3]].all()
    np.testing.assert_allclose(slope[..., 3][free], slope[..., 0][free], rtol=0.02)


def test_more_lead_straightens_the_knee_at_the_knee_and_leaves_lift_off_alone():
    setups = [filled_setup(SetupInput(lead_rad=lead)) for lead in (0.0, math.radians(10.0))]
    r = rig_of(reference_body(), setup_arrays(setups))
    start = np.broadcast_to(r.setups.start_height, r.knee_z.shape)
    p = postures_at(r, np.concatenate([start, r.knee_z], axis=-1))
    np.testing.assert_allclose(p.hip_x[0, 0, 0], p.hip_x[0, 1, 0], atol=1e-12)
    assert np.degrees(p.knee_flexion[0, 0, 1] - p.knee_flexion[0, 1, 1]) == pytest.approx(10.0)


def test_legs_first_is_lead_and_about_as_much_of_arms_ahead():
    """One degree of arms ahead at the knee opens it by about ARMS_PER_LEAD degrees more."""
    step = math.radians(0.5)
    setups = [filled_setup(SetupInput(arms_at_knee_rad=a)) for a in (-step, step)]
    r = rig_of(population_bodies("m", 200, 15), setup_arrays(setups))
    knee = postures_at(r, r.knee_z).knee_flexion[..., 0]
    assert np.mean((knee[:, 0] - knee[:, 1]) / (2 * step)) == pytest.approx(ARMS_PER_LEAD, abs=0.1)


def test_the_bar_drifts_back_to_the_knee_and_then_goes_straight_up():
    r, p = pull_postures(reference_body(), STYLES)
    back = p.bar_x[..., :1] - p.bar_x
    assert (np.diff(back, axis=-1) >= 0.0).all()
    above = p.z >= r.knee_z
    np.testing.assert_allclose(back[above], 0.02)
    assert back[0, 0, 0] == 0.0


def test_u_is_0_at_the_floor_start_1_at_lockout_and_negative_in_a_deficit():
    setups = setup_arrays([filled_setup(SetupInput(start_offset_m=offset)) for offset in (0.0, 0.10, -0.05)])
    r, p = pull_postures(reference_body(), setups)
    np.testing.assert_allclose(p.u[0, :, -1], 1.0)
    assert p.u[0, 0, 0] == pytest.approx(0.0)
    assert p.u[0, 1, 0] > 0.1
    assert p.u[0, 2, 0] < 0.0
    np.testing.assert_allclose(r.lockout_z[0, :, 0], r.lockout_z[0, 0, 0])


def test_a_partial_pull_is_the_same_pull_from_another_height():
    setups = setup_arrays([filled_setup(SetupInput()), filled_setup(SetupInput(start_offset_m=0.12))])
    r = rig_of(reference_body(), setups)
    z = np.broadcast_to(np.linspace(0.36, 0.70, 9), (1, 2, 9))
    p = postures_at(r, z)
    np.testing.assert_allclose(p.hip_x[0, 0], p.hip_x[0, 1], atol=1e-12)


def test_a_posture_depends_on_its_height_and_not_on_the_other_heights_asked():
    r, p = pull_postures(reference_body(), STYLES, heights=61)
    for at in (5, 25, 36, 42, 50, 57):
        alone = postures_at(r, p.z[..., at : at + 1])
        np.testing.assert_allclose(alone.hip_x[..., 0], p.hip_x[..., at], atol=1e-12)
    mixed = postures_at(r, p.z[..., ::-1])
    np.testing.assert_allclose(mixed.hip_x[..., ::-1], p.hip_x, atol=1e-12)


def test_a_squad_in_one_call_is_each_athlete_alone():
    bodies = population_bodies("f", 40, 2)
    squad = squad_pulls(bodies, STYLES, heights=31)
    assert squad.a["hip"].shape == (40, 4, 31)
    for athlete in (0, 17, 39):
        r, p = pull_postures(bodies.rows(slice(athlete, athlete + 1)), STYLES, 31)
        moments = moments_of(r.body, r.setups, p)
        np.testing.assert_allclose(squad.posture["knee_flexion"][athlete], p.knee_flexion[0], atol=1e-5)
        np.testing.assert_allclose(squad.a["knee"][athlete], moments.knee.a[0], rtol=1e-6, atol=1e-6)
        np.testing.assert_array_equal(squad.problem[athlete], problem_of(r, p)[0])


def test_one_impossible_style_leaves_the_others_alone():
    setups = [filled_setup(SetupInput()), filled_setup(SetupInput("sumo", stance_m=1.6))]
    r, p = pull_postures(reference_body(), setup_arrays(setups))
    assert (problem_of(r, p) > 0).tolist() == [[False, True]]
    assert np.isfinite(p.hip_x[0, 0]).all()


def test_start_height_is_half_the_disc_technical_rules():
    assert filled_setup(SetupInput()).start_height_m == 0.225
    assert filled_setup(SetupInput(disc_diameter_m=0.40)).start_height_m == pytest.approx(0.20)


def test_a_thicker_sole_lowers_the_start_and_lengthens_the_pull():
    r, _ = pull_postures(reference_body(), setup_arrays([filled_setup(SetupInput(sole_m=s)) for s in (0.0, 0.02)]))
    assert r.lockout_z[0, 1, 0] - r.lockout_z[0, 0, 0] == pytest.approx(0.02, abs=0.001)
