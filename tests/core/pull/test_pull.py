"""The whole pull: feasible, never bending again, the same at a height however it is asked for."""

import numpy as np
import pytest

from analysis.core.body.anthropometry import population_bodies
from analysis.core.pull.batch import squad_pulls
from analysis.core.pull.checks import reference_body
from analysis.core.pull.moments import moments_of
from analysis.core.pull.pull import postures_at, problem_of, pull_postures, rig_of
from analysis.core.pull.setups import DEFAULT_SETUPS, filled_setup, setup_arrays
from analysis.core.records.pulls import SetupInput

STYLES = setup_arrays([filled_setup(asked) for asked in DEFAULT_SETUPS])


@pytest.mark.parametrize("links", ["rough", "filled"])
def test_all_61_heights_are_feasible_and_the_knees_straight_at_the_top(links):
    r, p = pull_postures(reference_body(links), STYLES)
    assert (problem_of(r, p) == 0).all()
    assert np.isfinite(p.hip_x).all()
    assert np.degrees(p.knee_flexion[..., -1]).max() < 1.0
    np.testing.assert_allclose(np.degrees(p.trunk_angle[..., -1]), 90.0, atol=0.5)


@pytest.mark.parametrize("sex", ["m", "f"])
def test_past_the_knee_knees_and_hips_never_bend_again(sex):
    bodies = population_bodies(sex, 200, 9)
    r, p = pull_postures(bodies, STYLES)
    able = problem_of(r, p) == 0
    past = (p.z[..., :-1] > r.knee_z) & able[..., None]
    assert able.mean() > 0.9
    assert np.diff(p.knee_flexion, axis=-1)[past].max() < 1e-6
    # and no posture jumps to straight legs because the one before it could not be
    assert np.degrees(np.diff(p.knee_flexion, axis=-1)[..., :-1][past[..., :-1]].min()) > -15.0
    flat = past.copy()
    flat[:, 3] = False
    assert np.diff(p.hip_flexion, axis=-1)[flat].max() < 1e-5
    # a rounded spine straightens over a hip that waits: there the hip opens against the trunk as a whole
    to_trunk = p.hip_flexion + p.lower_trunk - p.trunk_angle
    assert np.diff(to_trunk, axis=-1)[past].max() < 1e-5


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


def test_a_posture_depends_on_its_height_and_hardly_on_the_other_heights_asked():
    r, p = pull_postures(reference_body(), STYLES, heights=61)
    for at in (5, 25, 36, 42, 50, 57):
        alone = postures_at(r, p.z[..., at : at + 1])
        np.testing.assert_allclose(alone.hip_x[..., 0], p.hip_x[..., at], atol=5e-4)


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
