"""A trial's rows as the core reads them, and what the log says of it on a day."""

from __future__ import annotations

from datetime import date
from math import hypot

from analysis.core.body.anthropometry import filled_body
from analysis.core.decision.days import holidays
from analysis.core.records.estimates import HipDistances, TrialPlan, TrialVerdict
from analysis.core.records.lifts import LifterRecord
from analysis.core.settings import Settings
from analysis.core.trials.verdict import judge_trial
from analysis.store.bridge import body_input, lifter_seen
from analysis.store.club_numbers import numbers_for
from athletes.models import Athlete, Club, Picture, Trial
from athletes.models.choices import SuccessMeasure, TrialStatus

MARKS = {"hip", "shoulder", "bar"}


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


def verdict_of(
    trial: Trial,
    as_of: date,
    hips: HipDistances | None = None,
    *,
    lifter: LifterRecord | None = None,
    numbers: Settings | None = None,
    sees_health: bool = False,
) -> TrialVerdict:
    """What the log says of a trial as of a day; the lifter as of that day and the numbers are read where not given.

    A lifter that is read here has health in it only where the reader may see it.
    """
    lifter = lifter or lifter_seen(trial.athlete, as_of, sees_health=sees_health)
    numbers = numbers_for(trial.athlete) if numbers is None else numbers
    return judge_trial(plan_of(trial), lifter.sets, lifter.days, as_of, numbers, standing=lifter.standing, hips=hips)


def picture_distances(trial: Trial, as_of: date | None = None) -> HipDistances:
    """Hip-to-bar distances, m, in marked pictures of both styles; the athlete's own trunk length gives the scale."""
    found = filmed_distances(trial.athlete, (trial.old_style, trial.new_style), as_of)
    return HipDistances(old_m=found.get(trial.old_style, ()), new_m=found.get(trial.new_style, ()))


def filmed_distances(
    athlete: Athlete, styles: tuple[str, str], as_of: date | None = None
) -> dict[str, tuple[float, ...]]:
    """Style -> hip-to-bar distances, m, in its marked pictures; the athlete's own trunk length gives the scale."""
    rows = [p for p in Picture.objects.filter(athlete=athlete, style__in=styles) if p.marks.keys() >= MARKS]
    if not rows:
        return {}
    trunk = filled_body(body_input(athlete, as_of)).link("trunk").value
    return {style: tuple(hip_to_bar(p, trunk) for p in rows if p.style == style) for style in styles}


def hip_to_bar(picture: Picture, trunk_m: float) -> float:
    """Horizontal hip-to-bar distance, m: the marks' distance across over hip to shoulder, times the trunk."""
    width, height = picture.marks.get("size") or (picture.file.width, picture.file.height)
    hip, shoulder, bar = (picture.marks[name] for name in ("hip", "shoulder", "bar"))
    trunk_px = hypot((shoulder[0] - hip[0]) * width, (shoulder[1] - hip[1]) * height)
    return abs(bar[0] - hip[0]) * width / max(trunk_px, 1.0) * trunk_m


def closed_days(club: Club, day: date) -> frozenset[date]:
    """Days of this year and the two after it on which nothing is decided in a club."""
    own = (date.fromisoformat(text) for text in club.closed_days)
    return holidays(range(day.year, day.year + 3), own)
