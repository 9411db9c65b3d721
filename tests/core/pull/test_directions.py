"""Directional facts of the trade over 2,000 random bodies of the reference tables (common practice, no source)."""

from dataclasses import replace

import numpy as np
import pytest

from analysis.core.body.anthropometry import drawn_bodies, population_bodies
from analysis.core.body.body import joined
from analysis.core.leverages.sweeps import with_stance
from analysis.core.pull.bar import BAR_PRESETS, carried_load, rise_of_hands
from analysis.core.pull.moments import moments_of
from analysis.core.pull.pull import postures_at, problem_of, rig_of
from analysis.core.pull.setups import filled_setup, setup_arrays
from analysis.core.records.bodies import BodyInput
from analysis.core.records.pulls import SetupInput


@pytest.fixture(scope="module")
def bodies():
    """1,000 men and 1,000 women drawn, and at the end a woman of 1.65 m, 65 kg and a man of 60."""
    woman = BodyInput("f", {"stature": 1.65, "mass": 65.0})
    elder = BodyInput("m", {"stature": 1.74, "mass": 82.0}, age=60)
    named = [drawn_bodies(woman, 0), drawn_bodies(elder, 0)]
    return joined([population_bodies("m", 999, 11), population_bodies("f", 999, 12), *named])


def _lift_off(bodies, *asked):
    r = rig_of(bodies, setup_arrays([filled_setup(one) for one in asked]))
    z = np.stack(np.broadcast_arrays(r.setups.start_height + 0 * r.lockout_z, r.lockout_z), axis=-1)[:, :, 0, :]
    p = postures_at(r, z)
    return r, p, (problem_of(r, p) == 0) & _hinges(p)


def _hinges(p):
    """Hips at least 2 cm above the knees at the start: with level thighs a lift is a squat, and there the hip's own
    circle about the knee turns the directions round (14 of 2,000 bodies in sumo, very long trunks)."""
    return (p.hip_z - p.knee_z)[:, :, 0] > 0.02


def _always(holds, possible):
    """A fact must hold for every body that can take every setup compared; and nearly all bodies can."""
    able = possible.all(axis=1)
    assert able.mean() > 0.97
    assert able[-2:].all()
    return holds[able].all()


def test_two_thousand_bodies_can_take_the_conventional_style(bodies):
    _, _, possible = _lift_off(bodies, SetupInput("conventional"))
    assert len(bodies) == 2000
    assert possible.mean() > 0.995


@pytest.mark.parametrize("style", ["conventional", "sumo"])
def test_longer_arms_start_more_upright_and_more_open(bodies, style):
    shorter, longer = (_lift_off(replace(bodies, arm=bodies.arm * factor), SetupInput(style)) for factor in (1.0, 1.03))
    possible = shorter[2] & longer[2]
    for key, sign in (("trunk_angle", 1), ("knee_flexion", -1), ("hip_flexion", -1)):
        change = sign * (getattr(longer[1], key) - getattr(shorter[1], key))[:, :, 0]
        assert _always(change > 0, possible), key


def test_a_wider_stance_is_a_shorter_pull_with_nearer_hips(bodies):
    stances = (0.45, 0.55, 0.65, 0.75)
    r, p, possible = _lift_off(bodies, *(with_stance(SetupInput("sumo"), stance) for stance in stances))
    assert _always(np.diff(r.lockout_z[:, :, 0], axis=1) < 0, possible)
    assert _always(np.diff(p.hip_bar_distance[:, :, 0], axis=1) < 0, possible)
    assert _always(np.diff(p.trunk_angle[:, :, 0], axis=1) > 0, possible)


def test_rounding_opens_knees_and_hips_and_brings_the_hips_nearer(bodies):
    _, p, possible = _lift_off(bodies, SetupInput("conventional"), SetupInput("rounded"))
    for key in ("knee_flexion", "hip_flexion", "hip_bar_distance"):
        assert _always(np.diff(getattr(p, key)[:, :, 0], axis=1) < 0, possible), key


def test_a_bar_that_bends_helps_the_floor_and_leaves_lockout_alone(bodies):
    """The load comes on while the hands rise, and where the discs leave, hips and knees are more open.

    The hip moment itself hardly changes over that first centimetre (the hips rise with the bar).
    """
    names = ("unknown", "stiff", "flexible")
    rise = [0.0] + [
        rise_of_hands(200.0, 0.55, BAR_PRESETS[name].diameter_m, BAR_PRESETS[name].span_m) for name in names[1:]
    ]
    # one shaft for all three: only the bending differs
    asked = [filled_setup(SetupInput(bar=name, bar_diameter_m=0.029)) for name in names]
    r = rig_of(bodies, setup_arrays(asked))
    leaving = r.setups.start_height + np.array(rise)[None, :, None] + 0.0 * r.lockout_z
    p = postures_at(r, leaving)
    for key in ("hip_flexion", "knee_flexion"):
        assert (np.diff(getattr(p, key)[:, :, 0], axis=1) < 0).all(), key
    hip = moments_of(r.body, r.setups, p).hip.at(200.0)[:, :, 0]
    np.testing.assert_allclose(np.median(hip[:, 1:] / hip[:, :1], axis=0), 1.0, atol=0.003)
    assert (hip[:, 1:] < 1.02 * hip[:, :1]).all()
    one_cm_up = [float(carried_load(200.0, bend, np.array([0.01]))[0]) for bend in rise]
    assert one_cm_up[0] == 200.0 > one_cm_up[1] > one_cm_up[2]
    np.testing.assert_array_equal(r.lockout_z[:, 1:], r.lockout_z[:, :1].repeat(2, axis=1))
    at_top = carried_load(200.0, rise[2], r.lockout_z - r.setups.start_height)
    np.testing.assert_array_equal(at_top, 200.0)


def test_a_longer_thigh_takes_the_hips_further_from_the_bar(bodies):
    _, p, possible = _lift_off(bodies, SetupInput("conventional"))
    _, longer, also = _lift_off(replace(bodies, thigh=bodies.thigh * 1.03), SetupInput("conventional"))
    assert _always((longer.hip_bar_distance > p.hip_bar_distance)[:, :, 0], possible & also)
