"""The bands of noted positions: one place for the estimate and for the picture."""

import numpy as np
import pytest

from analysis.core.records.terms import MISS_POSITIONS, band_edges, position_heights
from analysis.core.weak_link.tabulated import note_chances
from tests.simulated_lifters import KIND, tables


def test_each_height_lies_in_the_band_of_its_position():
    heights = position_heights(0.225, 0.47, 0.75)
    edges = np.array(band_edges(0.225, 0.47, 0.75))
    assert tuple(heights) == MISS_POSITIONS and (np.diff(edges) > 0).all()
    assert list(np.searchsorted(edges, list(heights.values()))) == list(range(len(MISS_POSITIONS)))


def test_the_estimate_expects_a_note_most_where_the_picture_marks_it():
    kind = tables()[0].kinds[KIND["conventional"]]
    heights = position_heights(float(kind.z[0]), kind.knee_z, float(kind.z[-1]))
    notes = note_chances(kind, 0.01)
    for place, z in enumerate(heights.values()):
        assert notes[np.abs(kind.z - z).argmin()].argmax() == place


def test_bands_below_a_raised_start_are_empty():
    edges = band_edges(0.48, 0.47, 0.75)
    assert edges[1] == edges[2] == edges[3] == pytest.approx(0.51)
