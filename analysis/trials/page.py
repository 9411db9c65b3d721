"""What the trial pages show: the verdict as of today, only what this viewer may see, and the rows to tap."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any

from analysis.core.estimates.running_best import running_bests
from analysis.core.records.estimates import Finding, TrialPlan, TrialVerdict
from analysis.core.records.lifts import LifterRecord
from analysis.core.settings import Settings
from analysis.progress.stored import record_from
from analysis.store.profiles import profile_of
from analysis.trials.reading import picture_distances, plan_of, verdict_of
from athletes.models import LiftSet, Trial
from athletes.models.choices import Lift, TrialStatus


@dataclass(frozen=True, slots=True)
class TrialView:
    """One trial as a page shows it."""

    trial: Trial
    plan: TrialPlan
    verdict: TrialVerdict
    background: tuple[Finding, ...]

    @property
    def share_done(self) -> int:
        """Weeks done, in percent of the plan, at most 100."""
        return min(round(100 * self.verdict.weeks_done / max(self.trial.weeks, 1)), 100)


def trial_view(trial: Trial, as_of: date, sees_health: bool) -> TrialView:
    """The trial's state as of a day for one reader; what is stored of the running one, any other judged now."""
    if trial.status == TrialStatus.RUNNING:
        stored = profile_of(trial.athlete, "trial", as_of, sees_health=sees_health)
        if stored["trial"] == trial.pk:
            return stored_view(trial, stored)
    hips = picture_distances(trial, as_of)
    return shown_verdict(trial, verdict_of(trial, as_of, hips, sees_health=sees_health))


def stored_view(trial: Trial, stored: dict[str, Any]) -> TrialView:
    """The same from what is stored of this trial."""
    return shown_verdict(trial, record_from(TrialVerdict, stored["verdict"]))


def shown_verdict(trial: Trial, verdict: TrialVerdict) -> TrialView:
    """What the log says of the trial; which answer follows from it is the decision's to say."""
    return TrialView(trial, plan_of(trial), verdict, verdict.reasons[1:])


def sets_to_tap(trial: Trial, most: int = 30) -> list[LiftSet]:
    """The trial's latest sets in the new style, newest first."""
    rows = LiftSet.objects.filter(
        athlete=trial.athlete, lift=Lift.DEADLIFT, style=trial.new_style, day__gte=trial.started_on
    )
    return list(rows.select_related("bar").order_by("-day", "-order", "-pk")[:most])


def bests_by_style(lifter: LifterRecord, as_of: date, numbers: Settings) -> dict[str, float]:
    """Style -> running best (kg) of its floor kind with most days."""
    found: dict[str, float] = {}
    for kind, best in running_bests(lifter.sets, as_of, numbers).items():
        if kind.tags.start == "floor" and kind.tags.style:
            found.setdefault(kind.tags.style, best.now_kg)
    return found
