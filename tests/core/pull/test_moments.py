"""Moments as lines in the load, and what pushing the floor apart does."""

import numpy as np
import pytest

from analysis.core.pull.checks import reference_body, solve_four_styles
from analysis.core.pull.moments import ground_of, loads_of, moments_of, usable_push
from analysis.core.pull.pull import pull_postures
from analysis.core.pull.setups import DEFAULT_SETUPS, filled_setup, setup_arrays
from analysis.core.records.pulls import SetupInput
from athletes.schema.units import GRAVITY

STYLES = setup_arrays([filled_setup(asked) for asked in DEFAULT_SETUPS])


@pytest.fixture(scope="module")
def pull():
    return pull_postures(reference_body(), STYLES)


def test_the_load_part_of_the_hip_moment_is_weight_times_distance(pull):
    r, p = pull
    np.testing.assert_allclose(moments_of(r.body, r.setups, p).hip.a, GRAVITY * p.hip_bar_distance, rtol=1e-12)


def test_every_moment_is_a_line_in_the_load(pull):
    r, p = pull
    moments = moments_of(r.body, r.setups, p, 0.7)
    for name in ("hip", "adductor", "knee", "trunk", "l4l5", "ankle"):
        line = getattr(moments, name)
        np.testing.assert_allclose(line.at(300.0) - line.at(200.0), line.at(200.0) - line.at(100.0), rtol=1e-9)


def test_the_ground_carries_the_whole_weight_under_its_centre(pull):
    r, p = pull
    w = loads_of(r.body, r.setups, p, 200.0)
    g = ground_of(w, r.setups, p, 0.5)
    np.testing.assert_allclose(g.up, (200.0 + 85.0) * GRAVITY, rtol=1e-3)
    centre = g.up_x / g.up
    foot = float(r.body.foot[0, 0, 0])
    assert (-0.19 * foot < centre).all() and (centre < 0.81 * foot).all()


def test_push_moves_the_demand_from_the_adductors_to_the_knees(pull):
    r, p = pull
    pushes = np.array([0.0, 0.5, 0.9])[:, None, None, None]
    moments = moments_of(r.body, r.setups, p, pushes)
    adductor, knee = moments.adductor.at(200.0), moments.knee.at(200.0)
    assert adductor.shape == (3, 1, 4, 61)
    assert (np.diff(adductor[..., :2, :50], axis=0) < 0).all()
    assert (np.diff(knee[:, 0, 1, :30], axis=0) > 0).all()
    np.testing.assert_allclose(np.diff(np.broadcast_to(moments.hip.at(200.0), (3, 1, 4, 61)), axis=0), 0.0)


def test_friction_bounds_the_inward_lean(pull):
    r, p = pull
    wide = setup_arrays([filled_setup(SetupInput("wide-sumo", turnout_rad=0.7))])
    rig, posture = pull_postures(reference_body(), wide)
    used = usable_push(rig.setups, posture, 1.0)
    assert used[0, 0, 0] < 1.0
    lean = (posture.ankle_y + posture.bar_x * np.tan(0.7) - posture.hip_y) / posture.hip_z
    assert (used * lean <= 0.6 + 1e-12).all()
    assert (usable_push(r.setups, p, 0.5)[:, 0] == 0.5).all()


def test_l4l5_lies_between_the_hip_and_the_spinal_joint():
    found = solve_four_styles(reference_body())
    for style in range(4):
        assert found.moment("trunk", style) < found.moment("l4l5", style) < found.moment("hip", style)


def test_the_knee_extensors_also_hold_what_the_hamstrings_bend():
    found = solve_four_styles(reference_body())
    assert found.moment("knee_demand", 0) == pytest.approx(found.moment("knee", 0) + 0.2 * found.moment("hip", 0))
