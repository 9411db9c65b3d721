"""Virtual work: what the joints do equals what the bar and the segments gain in height, at any push."""

import numpy as np
import pytest

from analysis.core.pull.checks import reference_body
from analysis.core.pull.moments import hip_sagittal, joint_vectors, loads_of
from analysis.core.pull.pull import postures_at, rig_of
from analysis.core.pull.setups import DEFAULT_SETUPS, filled_setup, setup_arrays
from tests.virtual_work import LOAD_KG, SHARES, work_and_gain


@pytest.mark.parametrize("push", [0.0, 0.5, 1.0])
@pytest.mark.parametrize("links", ["rough", "filled"])
def test_work_of_the_joints_is_the_gain_in_height(push, links):
    work, gain = work_and_gain(reference_body(links), push)
    assert np.isfinite(work).all()
    np.testing.assert_allclose(work, gain, rtol=0.005)


def test_hip_moment_from_above_equals_hip_moment_from_below():
    body = reference_body()
    r = rig_of(body, setup_arrays([filled_setup(asked) for asked in DEFAULT_SETUPS], body))
    z = r.setups.start_height + (r.lockout_z - r.setups.start_height) * SHARES
    p = postures_at(r, z)
    w = loads_of(r.body, r.setups, p, LOAD_KG)
    np.testing.assert_allclose(joint_vectors(w, r.setups, p, 0.5).hip.y, hip_sagittal(w, p), rtol=1e-9)
