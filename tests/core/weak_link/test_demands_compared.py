"""What one load asks of each link: the numbers are the maxima of the weak link's own curves at that load."""

import pytest

from analysis.core.weak_link.readings import COMPARED_SHARE, compared_load
from tests.core.weak_link_log import base, lifter, report


@pytest.fixture(scope="module")
def conventional():
    return report(lifter(base()))


def test_the_shares_are_the_curves_maxima_at_that_load(conventional):
    reading = conventional.style("conventional")
    asked = next(one for one in conventional.demands if one.style == "conventional")
    for link in asked.links:
        top = max(getattr(reading.curve, link.link))
        assert link.share == pytest.approx(top * conventional.demand_kg / reading.best_kg, rel=0.01)
        at = getattr(reading.curve, link.link).index(top)
        assert link.height_m == pytest.approx(reading.curve.height_m[at])
        assert link.low <= link.share <= link.high


def test_both_styles_are_compared_at_a_heavy_load_whether_pulled_or_not(conventional):
    assert [one.style for one in conventional.demands] == ["conventional", "sumo"]
    best = conventional.style("conventional").best_kg
    assert conventional.demand_kg == compared_load(best) and conventional.demand_kg % 5 == 0
    assert abs(conventional.demand_kg - COMPARED_SHARE * best) <= 2.5
    legs = {one.style: one.links[1].share for one in conventional.demands}
    assert legs["sumo"] > legs["conventional"]


def test_the_style_that_is_kept_stands_first():
    assert [one.style for one in report(lifter(base(style="sumo"), trained_styles=("sumo",))).demands] == [
        "sumo",
        "conventional",
    ]
