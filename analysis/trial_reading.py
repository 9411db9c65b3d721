"""A trial's rows as the core reads them, and what the log says of it on a day."""

from __future__ import annotations

from datetime import date

from analysis.bridge import lifter_record
from analysis.club_numbers import numbers_for
from analysis.evidence.style_trials.verdict import judge_trial
from analysis.records.estimates import HipDistances, TrialPlan, TrialVerdict
from athletes.models import Athlete, Trial
from athletes.models.choices import SuccessMeasure, TrialStatus


def plan_of(trial: Trial) -> TrialPlan:
    """What was agreed, as a record; its key is the trial's pk as text."""
    return TrialPlan(
        key=str(trial.pk),
        old_style=trial.old_style,
        new_style=trial.new_style,
        begins=trial.started_on,
        weeks=trial.weeks,
        sessions_a_week=trial.pulls_a_week,
        decision_day=trial.decide_on,
        success="weight" if trial.success == SuccessMeasure.MORE_WEIGHT else "tolerance",
        important_dates=tuple(date.fromisoformat(day) for day in trial.avoid_dates),
    )


def running_trial(athlete: Athlete) -> Trial | None:
    """The athlete's running trial, or None."""
    return athlete.trials.filter(status=TrialStatus.RUNNING).first()


def verdict_of(trial: Trial, as_of: date, hips: HipDistances | None = None) -> TrialVerdict:
    """What the log says of a trial as of a day."""
    athlete = trial.athlete
    lifter = lifter_record(athlete, as_of)
    return judge_trial(
        plan_of(trial), lifter.sets, lifter.days, as_of, numbers_for(athlete), standing=lifter.standing, hips=hips
    )
