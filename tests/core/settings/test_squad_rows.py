"""Every number of the squad review at its boundary."""

from datetime import timedelta

import pytest

from analysis.core.decision.answer import answer
from analysis.core.estimates.one_rep_max import set_estimate
from analysis.core.records.decision import DecisionFacts
from analysis.core.records.squad import WallSigns
from analysis.core.squad.review import squad_row
from analysis.core.squad.wall import wall_reasons
from tests.core.logbook import day, missed, note, pull, weekly
from tests.core.settings.rows import NUDGE, Edge, check_edge
from tests.core.weak_link_log import lifter

NOW = 100
MONTH = 30.4375  # days
BASE = weekly(NOW - 59, 9, 140.0)
LEVEL = set_estimate(pull(0, 140.0, 1, 9.5)).estimate_kg


def row_of(settings, sets=(), days=(), decide_in=None, measured_ago=0, **more):
    """The squad row of a lifter with a single of 140 kg a week."""
    person = lifter([*BASE, *sets], days, **more)
    decide_on = None if decide_in is None else day(NOW + decide_in)
    return squad_row(person, day(NOW), settings, decide_on, day(NOW - measured_ago))


def has(code, settings, **more):
    return code in [r.code for r in row_of(settings, **more).reasons]


def silence(days, settings):
    """The urgency of so many days without a set, 0 for none."""
    found = squad_row(lifter([pull(NOW - int(days), 140.0)]), day(NOW), settings, None, day(NOW)).reasons
    return next((r.urgency for r in found if r.code == "not-logged"), 0)


def new_miss(days, settings):
    return has("heavy-miss", settings, sets=[missed(NOW - int(days), 140.0)])


def heavy_miss(share, settings):
    return has("heavy-miss", settings, sets=[missed(NOW, share * LEVEL * NUDGE)])


def sore(points, settings):
    return has("sore", settings, days=[note(NOW, int(points))])


def meet(days, settings):
    return has("meet-near", settings, next_meet=day(NOW) + timedelta(days=int(days)))


def trial(days, settings):
    return has("trial-due", settings, decide_in=int(days))


def stale(months, settings, age):
    return has("measurements-stale", settings, measured_ago=int(months * MONTH), age=age)


def on_the_wall(code, settings, **signs):
    """Whether the wall names this of a lifter who goes as planned but for these signs."""
    known = WallSigns(day(NOW), day(NOW - 2), **signs)
    facts = DecisionFacts(day(NOW), measured=True, logged_days=40, best_kg=180.0)
    return code in [one.code for one in wall_reasons(answer(facts, settings), facts, known, settings)]


def unplanned(days, settings):
    return on_the_wall("attempts", settings, next_meet=day(NOW + int(days)))


def idle(days, settings):
    return on_the_wall("no-heavy", settings, last_heavy=day(NOW - int(days)))


EDGES = (
    Edge("squad.attempts_days", 14, 1, unplanned, True, True, False),
    Edge("squad.heavy_days", 14, 1, idle, False, False, True),
    Edge("squad.quiet_days", 7, 1, silence, 0, 3, 3),
    Edge("squad.silent_days", 14, 1, silence, 3, 2, 2),
    Edge("squad.new_days", 7, 1, new_miss, True, False, False),
    Edge("squad.heavy_miss", 0.90, 0.01, heavy_miss, False, True, True),
    Edge("squad.sore", 5, 1, sore, False, True, True),
    Edge("squad.meet_days", 28, 1, meet, True, True, False),
    Edge("squad.trial_days", 7, 1, trial, True, True, False),
    Edge("squad.measure_months", 12, 1, lambda x, s: stale(x, s, 30.0), False, False, True),
    Edge("squad.measure_months_minor", 3, 1, lambda x, s: stale(x, s, 17.0), False, False, True),
)


@pytest.mark.parametrize("row", EDGES, ids=str)
def test_a_threshold_is_where_it_is_said_to_be(row):
    check_edge(row)
