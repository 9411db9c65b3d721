"""The demo reaches the answers that a log can bring about, and its wall has work in every group."""

from datetime import date

import pytest

from analysis.core.decision.answer import answer
from analysis.core.records.decision import State
from analysis.decision.facts import decision_facts
from analysis.squad.wall import compute_wall
from analysis.store.profiles import Sources
from athletes.demo.build import build_demo
from athletes.models import Athlete

TODAY = date(2026, 11, 25)
# Film needs marked stills, and a decision for both styles has no verdict of its own yet: the demo cannot reach them.
OUT_OF_REACH = {State.TRIAL_HIPS_NOT_CLOSER, State.TRIAL_FILM_AGAINST, State.DECIDED_BOTH}
# Two answers of a level log turn on a few kilos of luck: their stories come near, the tests of the core hold them.
BY_LUCK = {State.DUE_LEVEL, State.VIEWS_DIFFER}


@pytest.fixture
def sources(db):
    build_demo(TODAY)
    return [Sources(one, TODAY, sees_health=True) for one in Athlete.objects.order_by("pk")]


def test_every_state_within_reach_is_somebodys_answer(sources):
    found = {answer(decision_facts(its.athlete, its), its.numbers).state for its in sources}
    assert set(State) - OUT_OF_REACH - BY_LUCK - found == set()


def test_the_wall_of_the_first_club_has_work_for_today_and_this_week_and_quiet_rows(sources):
    rows = [compute_wall(its)["reasons"] for its in sources if its.athlete.club.name.startswith("Kiln")]
    today = [r for r in rows if r and r[0]["due"] == "today"]
    week = [r for r in rows if r and r[0]["due"] == "week"]
    assert len(today) >= 6 and len(week) >= 5 and sum(not r for r in rows) >= 3
    assert len({r[0]["code"] for r in today + week}) >= 10
