"""Segment masses and links as arrays."""

import numpy as np
import pytest

from analysis.core.body.anthropometry import drillis_links
from analysis.core.body.body import (
    DE_LEVA,
    LINK_KEYS,
    MID_SHOULDER_TO_MID_HIP,
    arm_lump,
    body_from_links,
    head_place,
    joined,
    trunk_lumps,
)
from analysis.core.records.plain import ImpossibleBody

PAIRED = ("upper arm", "forearm", "hand", "thigh", "shank", "foot")
TRUNK = ("upper trunk", "middle trunk", "lower trunk")


@pytest.mark.parametrize(("sex", "whole"), [("m", 1.0000), ("f", 0.9999)])
def test_masses_add_up_to_the_body_de_leva_1996(sex, whole):
    table = DE_LEVA[sex]
    single = sum(table[key].mass for key in (*TRUNK, "head"))
    assert single + 2 * sum(table[key].mass for key in PAIRED) == pytest.approx(whole, abs=5e-5)


@pytest.mark.parametrize(("sex", "trunk"), [("m", 0.4346), ("f", 0.4257)])
def test_trunk_is_the_sum_of_its_parts_de_leva_1996(sex, trunk):
    assert sum(DE_LEVA[sex][key].mass for key in TRUNK) == pytest.approx(trunk)


@pytest.mark.parametrize(("sex", "centre"), [("m", 0.4310), ("f", 0.3782)])
def test_trunk_centre_agrees_with_the_whole_trunk_row_de_leva_1996(sex, centre):
    """Row MIDS-MIDH gives the whole trunk's centre from the shoulder; ours is put together from three parts."""
    lumps = trunk_lumps(sex)
    head = DE_LEVA[sex]["head"]
    mass = sum(lump.mass for lump in lumps) - head.mass

    place = (sum(lump.mass * lump.place for lump in lumps) - head.mass * head_place(sex)) / mass
    assert 1.0 - place == pytest.approx(centre, abs=0.006)


@pytest.mark.parametrize("sex", ["m", "f"])
def test_trunk_lumps_lie_in_order_and_keep_the_mass(sex):
    pelvis, lumbar, chest = trunk_lumps(sex)
    assert 0 < pelvis.place < 0.175 < lumbar.place < 0.40 < chest.place < 1.0
    expected = sum(DE_LEVA[sex][key].mass for key in (*TRUNK, "head"))
    assert pelvis.mass + lumbar.mass + chest.mass == pytest.approx(expected)


@pytest.mark.parametrize("sex", ["m", "f"])
def test_arm_hangs_with_its_centre_near_the_elbow(sex):
    arm = arm_lump(sex)
    assert 0.40 < arm.place < 0.50
    assert MID_SHOULDER_TO_MID_HIP[sex] == pytest.approx(0.5, abs=0.02)


@pytest.mark.parametrize("key", LINK_KEYS)
@pytest.mark.parametrize("bad", [0.0, -0.4, float("nan")])
def test_a_link_that_cannot_be_is_named(key, bad):
    with pytest.raises(ImpossibleBody, match=f"^{key}:"):
        body_from_links("m", 85.0, {**drillis_links(1.78), key: bad})


def test_a_mass_that_cannot_be_is_named():
    with pytest.raises(ImpossibleBody, match=r"^mass:"):
        body_from_links("f", 0.0, drillis_links(1.65))


def test_bodies_join_and_split():
    man, woman = body_from_links("m", 85.0, drillis_links(1.78)), body_from_links("f", 65.0, drillis_links(1.65))
    both = joined([man, woman])
    assert len(both) == 2
    np.testing.assert_array_equal(both.male, [True, False])
    np.testing.assert_array_equal(both.rows(slice(1, 2)).thigh, woman.thigh)
