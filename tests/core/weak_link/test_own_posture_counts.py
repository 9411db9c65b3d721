"""A lifter's own posture moves the demands of weak link and the build score, once it is how they pull."""

from dataclasses import replace

import numpy as np
import pytest

from analysis.core.pull.lifter_postures import lifter_postures
from analysis.core.records.lifts import LifterRecord
from analysis.core.settings import DEFAULTS
from analysis.core.strength.demand_table import KindAsked
from analysis.core.styles.build import SEEN, UNSEEN, build_score
from analysis.core.weak_link.estimate import estimate
from analysis.core.weak_link.kinds import as_pulled, prepare_log
from athletes.schema.postures import PostureNote
from tests.core.logbook import day, weekly

TAPED = (
    PostureNote("conventional", day(1), "tape", heels_m=0.40, turnout_deg=25.0, bar_over="toe-side"),
    PostureNote("sumo", day(1), "tape", heels_m=0.70, turnout_deg=45.0),
)
EYED = tuple(replace(note, source="eye") for note in TAPED)


def lifter(weeks: int, notes=TAPED) -> LifterRecord:
    sets = tuple(weekly(0, weeks, 180.0))
    return LifterRecord("a", "m", 30.0, "trained", {"stature": 1.78, "mass": 85.0}, sets=sets, posture_notes=notes)


def demands(of: LifterRecord) -> np.ndarray:
    as_of = day(80)
    found = estimate(of, prepare_log(of, as_of, DEFAULTS), (), "conventional", as_of, DEFAULTS)
    return found.table.kinds[found.main].a


@pytest.mark.parametrize(("weeks", "counts"), [(7, False), (8, True)])
def test_the_demands_are_those_of_the_lifters_own_posture_from_eight_days_on(weeks, counts):
    own, people = demands(lifter(weeks)), demands(lifter(weeks, ()))
    assert np.allclose(own, people, rtol=1e-9) is not counts


def test_only_pulls_of_the_style_take_its_posture():
    own = {"sumo": lifter_postures(lifter(8)).own["sumo"]}
    kinds = [KindAsked("a", style="sumo"), KindAsked("b"), KindAsked("c", lift="squat", style="sumo")]
    assert [kind.own for kind in as_pulled(kinds, own)] == [own["sumo"], None, None]


@pytest.mark.parametrize(("notes", "reliability"), [((), UNSEEN), (TAPED, SEEN), (TAPED[:1], UNSEEN), (EYED, UNSEEN)])
def test_the_build_score_is_surer_only_where_both_styles_are_taped(notes, reliability):
    of = lifter(8, notes)
    found = build_score(of.body, lifter_postures(of).own)
    assert found.reliability == reliability
    if notes:
        assert found.score != build_score(of.body).score
