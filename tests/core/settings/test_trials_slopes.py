"""Numbers of trials whose effect is continuous: which outcome each moves, and which way."""

from datetime import timedelta
from math import exp, log1p

import numpy as np
import pytest

from analysis.core.records.estimates import TrialPlan, TrialPoint
from analysis.core.trials import judge_trial, sessions_of
from analysis.core.trials.heading import DIFFERENCE_ONLY, chance_equal, chances
from analysis.core.trials.kinds import TrialKind, shape_of
from analysis.core.trials.model import DIP, TrialData, TrialPosterior, TrialPrior, infer, prior, tau_grid
from analysis.core.trials.rule import gain_of, own_noise, trial_prior
from analysis.core.trials.verdict import expected_course
from tests.core.logbook import day, pull
from tests.core.settings.rows import Slope, check_slope

PLAN = TrialPlan("t", "conventional", "sumo", day(56), 12, 1.5, day(56 + 84))
AHEAD = TrialPosterior(np.ones(1), np.array([[0.0, 0.02, 0.0, 0.0]]), np.eye(4)[None] * 0.02**2, np.array([8.0]))


def exposures(settings):
    sets = [pull(60 + i, 180.0, style="sumo", in_new_style="partly", trial_key="t") for i in range(10)]
    return sessions_of(PLAN, sets, day(90), settings).exposures


def next_look(settings):
    """Days to the next look at an extended trial."""
    old = [pull(7 * i, 180.0, 1, 9.5) for i in range(1, 7)]
    new = [pull(56 + 4 * i, 180.0, 1, 9.5, style="sumo", in_new_style="yes", trial_key="t") for i in range(21)]
    found = judge_trial(PLAN, old + new, (), day(140), settings)
    return (found.next_look - day(140)).days if found.word == "extend" else -1.0


def points(kg, weeks, **more):
    return [
        TrialPoint(day(56) + timedelta(weeks=w), w, more.get("first", 0) + float(i), k, 0.02, ())
        for i, (w, k) in enumerate(zip(weeks, kg, strict=True))
    ]


def noise(settings):
    return own_noise(points([180.0, 186.0, 178.0, 185.0, 181.0, 179.0], range(6)), settings)


def rule_posterior(settings):
    """One value of each style, so that the prior speaks."""
    data = TrialData(*(np.array(v) for v in ([5.2, 5.1], [0.0, 1.0], [0.0, 0.0], [0.0, 1.0], [0.035, 0.035])))
    return infer(data, settings, before=TrialPrior(0.0, 0.08))


def paired_loss(settings):
    """Expected loss of a style that stands level, pulled on the same days as the old one."""
    weeks = [float(w) for w in range(4, 12)]
    old, new = points([180.0] * 8, weeks), points([180.0] * 8, weeks, first=30)
    return float(gain_of(old, new, TrialPrior(0.0, 0.08), settings, dips=False).loss)


def course(place, week):
    return lambda s: getattr(expected_course(PLAN, s), place)[week]


SLOPES = (
    Slope("trial.weeks", 10, 14, lambda s: shape_of(TrialKind.STYLE, 150.0, s).weeks, default=12),
    Slope("trial.weeks_heavy", 14, 20, lambda s: shape_of(TrialKind.STYLE, 250.0, s).weeks, default=16),
    Slope("trial.first_test_weeks", 2, 4, lambda s: shape_of(TrialKind.GRIP, None, s).first_look_weeks, default=3),
    Slope("trial.grip_weeks", 5, 8, lambda s: shape_of(TrialKind.GRIP, None, s).weeks, default=6),
    Slope("trial.cue_sessions", 4, 8, lambda s: shape_of(TrialKind.CUE, None, s).sessions, default=6),
    Slope("trial.sessions_a_week", 1.0, 2.0, lambda s: shape_of(TrialKind.STYLE, 150.0, s).sessions, default=18),
    Slope("trial.extend_weeks", 2, 6, next_look, default=28),
    Slope("trial.partly_weight", 0.25, 0.75, exposures, default=5.0),
    Slope("trial.dip_mean", -0.2, -0.1, course("middle", 0), default=exp(-0.15)),
    Slope("trial.dip_mean", -0.2, -0.1, lambda s: prior(s)[0][DIP], default=log1p(-0.15)),
    Slope("trial.dip_sd", 0.05, 0.1, course("high", 0)),
    Slope("trial.tau", 6, 10, course("middle", 4), rises=False),
    Slope("trial.tau_spread", 0.3, 0.5, lambda s: tau_grid(s)[0][-1], default=8.0 * exp(0.4 * 2.5)),
    Slope("trial.difference_sd", 0.04, 0.08, lambda s: prior(s)[1][1], default=0.06),
    Slope("trial.trend_sd", 0.001, 0.004, lambda s: prior(s)[1][3], default=0.002),
    Slope("trial.trend_sd_beginner", 0.005, 0.02, lambda s: prior(s, beginner=True)[1][3], default=0.01),
    Slope("trial.noise_sd", 0.025, 0.045, noise, rises=False),
    Slope("trial.worthwhile", 0.01, 0.03, lambda s: float(chances(AHEAD, s)[0]), rises=False),
    Slope("trial.equal_within", 0.01, 0.03, lambda s: float(chance_equal(AHEAD, s))),
    Slope("trial.prior_share", 0.25, 0.75, lambda s: trial_prior(0.02, 0.08, s).mean, default=0.01),
    Slope("trial.rule_dip_sd", 0.06, 0.12, lambda s: float(rule_posterior(s).sd(np.eye(4)[DIP]))),
    Slope("trial.rule_tau_spread", 0.4, 0.8, lambda s: float(rule_posterior(s).taus.max()), default=8 * exp(0.6 * 2.5)),
    Slope("trial.rating_sd", 0.005, 0.02, lambda s: float(rule_posterior(s).sd(DIFFERENCE_ONLY))),
    Slope("trial.day_sd", 0.01, 0.03, paired_loss, rises=False),
    Slope("trial.day_shared", 0.4, 0.9, paired_loss, rises=False),
)


@pytest.mark.parametrize("row", SLOPES, ids=str)
def test_raising_a_number_moves_its_outcome(row):
    check_slope(row)
