"""Every threshold of style, grip and cue trials at its boundary."""

from dataclasses import replace
from datetime import timedelta
from unittest.mock import patch

import numpy as np
import pytest

from analysis.core.decision.states import behind, decision_call, short_of_days, weeks_to_meet
from analysis.core.estimates.running_best import running_best
from analysis.core.records.estimates import HipDistances, TrialHeading, TrialPlan, TrialPoint
from analysis.core.trials import first_hint, judge_trial, plan_findings, verdict
from analysis.core.trials.kinds import TrialKind, shape_of
from analysis.core.trials.rule import ExpectedGain, call_of, heavy_days
from analysis.core.trials.sessions import sides_of
from analysis.core.trials.tolerance import Tolerance, hip_finding, pain_findings, tolerance_finding, tolerance_of
from tests.core.decision.facts import DAY, RUNNING, TRIAL, facts
from tests.core.logbook import day, note, pull
from tests.core.settings.rows import NUDGE, Edge, check_edge

BEGIN = 56
PLAN = TrialPlan("t", "conventional", "sumo", day(BEGIN), 12, 1.5, day(BEGIN + 84))
LEVEL = TrialHeading(*[0.0] * 4, 0.1, 0.8, 0.1, *[0.0] * 3, 180.0, 180.0, 170.0, 190.0, 180.0)


def planned(code, settings, **changes):
    return code in [f.code for f in plan_findings(replace(PLAN, **changes), settings)]


def short(weeks, settings):
    return planned("short-trial", settings, weeks=int(weeks))


def early(weeks, settings):
    return planned("early-decision", settings, decision_day=day(BEGIN + 7 * int(weeks)))


def crosses(weeks, settings):
    return planned("crosses-date", settings, weeks=8, important_dates=(day(BEGIN + 7 * int(weeks)),))


def new_sets(sessions, apart=3, first=BEGIN, **more):
    tags = {"style": "sumo", "in_new_style": "yes", "trial_key": "t", **more}
    return [pull(first + apart * i, 180.0, 1, 9.5, **tags) for i in range(int(sessions))]


def word(sessions, weeks, settings, heading=LEVEL, days=()):
    """The word after so many sessions and weeks, with the level given."""
    sets = [*(pull(7 * i, 180.0, 1, 9.5) for i in range(1, 7)), *new_sets(sessions)]
    with patch.object(verdict, "heading_of", return_value=heading):
        return judge_trial(PLAN, sets, days, day(BEGIN + int(weeks * 7)), settings).word


def better(chance, settings):
    return word(18, 9, settings, replace(LEVEL, chance_better=chance))


def worse(chance, settings):
    return word(18, 9, settings, replace(LEVEL, chance_worse=chance))


def attended(share, settings):
    return short_of_days(replace(TRIAL, days=round(share * 20), days_planned=20), settings)


def lagging(share, settings):
    """Half the time gone, so half of forty sessions due."""
    trial = replace(RUNNING, days=round(share * 20), days_planned=40)
    return behind(trial, DAY, settings)


def about_equal(chance, settings):
    trial = replace(TRIAL, success="hard-sets", easier=True, chance_not_worse=chance)
    return decision_call(trial, settings).value


def soreness(gain, settings):
    return tolerance_finding(Tolerance(5.0, 5.0 - gain, 8, 8), settings).code


def notes_enough(count, settings):
    days = [note(BEGIN - 1 - i, 4) for i in range(int(count))]
    return tolerance_of(PLAN, days, day(BEGIN), settings).before is not None


def notes_reach(weeks, settings):
    return tolerance_of(PLAN, [note(BEGIN - 7 * int(weeks), 4)], day(BEGIN), settings).days_before


def in_pain(sessions, settings):
    days = [note(BEGIN + 3 * i, 3, pain_event=True) for i in range(int(sessions))]
    return [f.code for f in pain_findings(new_sets(5), days, settings)]


def stopped(points, settings):
    days = [note(BEGIN + 3 * i, int(points)) for i in range(2)]
    return [f.code for f in pain_findings(new_sets(5), days, settings)]


def hint(share, settings):
    trained = running_best([pull(0, 200.0, 1, 10)], day(10))
    first = running_best([pull(5, 200.0 * share * NUDGE, 1, 10, style="sumo")], day(10))
    return first_hint(first, trained, settings).code


def baseline(weeks, settings, returning):
    sets = [pull(BEGIN - 7 * int(weeks), 180.0, 1, 9.5), *new_sets(1)]
    return len(sides_of(PLAN, sets, day(BEGIN + 7), settings, returning=returning).old)


def call(settings, gain=0.0, loss=0.0, chance=0.3, extended=False):
    return call_of(ExpectedGain(*map(np.array, (gain, loss, chance))), settings, extended=extended).value


def heavy(share, settings):
    """Heavy days of a best of 200 kg and one lighter day."""
    points = [TrialPoint(DAY, 1.0, 0.0, 200.0, 0.03, ("a",)), TrialPoint(DAY, 2.0, 1.0, 195.0, 0.03, ("b", "c"))]
    return heavy_days(points, {"a": 200.0, "b": 100.0, "c": share * 200.0}, settings)


def near_meet(weeks, settings):
    return weeks_to_meet(facts(important_meet=DAY + timedelta(weeks=weeks)), settings) is not None


EDGES = (
    Edge("trial.weeks_least", 8, 1, short, True, False, False),
    Edge("trial.weeks_least", 8, 1, early, True, False, False),
    Edge("trial.weeks_least", 8, 1, lambda x, s: word(18, x, s), "too early", "extend", "extend"),
    Edge(
        "trial.exposures_least",
        12,
        1,
        lambda x, s: planned("few-sessions", s, weeks=12, sessions_a_week=x / 12),
        True,
        False,
        False,
    ),
    Edge("trial.exposures_least", 12, 1, lambda x, s: word(x, 9, s), "too early", "extend", "extend"),
    Edge("trial.meet_weeks", 12, 1, crosses, True, False, False),
    Edge("trial.meet_weeks", 12, 1, near_meet, True, False, False),
    Edge("trial.attendance_least", 0.75, 0.05, attended, True, False, False),
    Edge("trial.attendance_least", 0.75, 0.05, lagging, True, False, False),
    Edge("trial.adopt_chance", 0.79, 0.01, about_equal, "level", "adopt", "adopt"),
    Edge("trial.adopt_chance", 0.79, 0.01, better, "extend", "adopt", "adopt"),
    Edge("trial.drop_chance", 0.86, 0.01, worse, "extend", "drop", "drop"),
    Edge("trial.tolerance_points", 2, 0.5, soreness, "tolerance-same", "tolerance-better", "tolerance-better"),
    Edge("trial.tolerance_notes", 4, 1, notes_enough, False, True, True),
    Edge("trial.tolerance_weeks", 4, 1, notes_reach, 1, 1, 0),
    Edge("trial.pain_sessions", 2, 1, in_pain, ["pain-once"], ["pain-stop-rule"], ["pain-stop-rule"]),
    Edge("trial.stop_soreness", 7, 1, stopped, [], ["pain-stop-rule"], ["pain-stop-rule"]),
    Edge(
        "trial.hips_closer",
        0.02,
        0.005,
        lambda x, s: hip_finding(HipDistances((0.5,), (0.5 - x,)), s).code,
        "hips-as-before",
        "hips-closer",
        "hips-closer",
    ),
    Edge("trial.hint_ratio", 0.95, 0.01, hint, "too-early-to-say", "run-a-trial", "run-a-trial"),
    Edge("trial.weak_ratio", 0.80, 0.01, hint, "no-rejection", "too-early-to-say", "too-early-to-say"),
    Edge("trial.baseline_weeks", 8, 1, lambda x, s: baseline(x, s, False), 1, 1, 0),
    Edge("trial.baseline_weeks_returning", 2, 1, lambda x, s: baseline(x, s, True), 1, 1, 0),
    Edge(
        "trial.loss_weight",
        2.0,
        0.1,
        lambda x, s: call(s, gain=0.01 * x, loss=0.01, extended=True),
        "keep",
        "keep",
        "adopt",
    ),
    Edge("trial.regret_most", 0.005, 0.001, lambda x, s: call(s, gain=x, loss=0.1), "keep", "keep", "four-more-weeks"),
    Edge("trial.level_band", 0.05, 0.01, lambda x, s: call(s, chance=0.5 - x), "level", "level", "keep"),
    Edge("trial.heavy_from", 200, 1, lambda x, s: shape_of(TrialKind.STYLE, x, s).weeks, 12, 12, 16),
    Edge("trial.heavy_day_share", 0.85, 0.01, heavy, 1, 2, 2),
    Edge(
        "trial.heavy_days_least",
        4,
        1,
        lambda x, s: short_of_days(replace(TRIAL, heavy_days=int(x)), s),
        True,
        False,
        False,
    ),
)


@pytest.mark.parametrize("row", EDGES, ids=str)
def test_a_threshold_is_where_it_is_said_to_be(row):
    check_edge(row)
