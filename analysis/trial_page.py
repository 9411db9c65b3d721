"""What the trial pages show: the verdict as of today, only what this viewer may see, and the rows to tap."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from math import hypot

from analysis.bridge import body_input, lifter_record
from analysis.club_numbers import numbers_for
from analysis.evidence.running_best import running_bests
from analysis.mechanics.anthropometry import filled_body
from analysis.records.estimates import Finding, HipDistances, TrialPlan, TrialVerdict
from analysis.trial_reading import plan_of, verdict_of
from athletes.models import Athlete, LiftSet, Picture, Trial
from athletes.models.choices import Lift

MARKS = {"hip", "shoulder", "bar"}
PRIVATE = ("pain", "tolerance")
WORDS = {"adopt": "adopt", "extend": "extend", "drop": "drop", "too early": "too early"}


@dataclass(frozen=True, slots=True)
class TrialView:
    """One trial as a page shows it."""

    trial: Trial
    plan: TrialPlan
    verdict: TrialVerdict
    word: str
    deciding: Finding
    background: tuple[Finding, ...]

    @property
    def share_done(self) -> int:
        """Weeks done, in percent of the plan, at most 100."""
        return min(round(100 * self.verdict.weeks_done / max(self.trial.weeks, 1)), 100)


def trial_view(trial: Trial, as_of: date, sees_health: bool) -> TrialView:
    """The trial's state; findings about pain and soreness only for coach and athlete.

    When pain decided the word, a reader who may not see health gets the word without its reason.
    """
    verdict = verdict_of(trial, as_of, picture_distances(trial))
    deciding, *background = verdict.reasons
    if not sees_health:
        background = [f for f in background if not f.code.startswith(PRIVATE)]
        if deciding.code.startswith(PRIVATE) or deciding.code == "equal-better-tolerated":
            deciding = Finding("for-the-coach", "The reason is for the coach and the athlete.")
    return TrialView(trial, plan_of(trial), verdict, WORDS[verdict.word], deciding, tuple(background))


def sets_to_tap(trial: Trial, most: int = 30) -> list[LiftSet]:
    """The trial's latest sets in the new style, newest first."""
    rows = LiftSet.objects.filter(
        athlete=trial.athlete, lift=Lift.DEADLIFT, style=trial.new_style, day__gte=trial.started_on
    )
    return list(rows.select_related("bar").order_by("-day", "-order", "-pk")[:most])


def bests_by_style(athlete: Athlete, as_of: date) -> dict[str, float]:
    """Style -> running best (kg) of its floor kind with most days."""
    found: dict[str, float] = {}
    lifter = lifter_record(athlete, as_of)
    for kind, best in running_bests(lifter.sets, as_of, numbers_for(athlete)).items():
        if kind.tags.start == "floor" and kind.tags.style:
            found.setdefault(kind.tags.style, best.now_kg)
    return found


def picture_distances(trial: Trial) -> HipDistances:
    """Hip-to-bar distances, m, in marked pictures of both styles; the athlete's own trunk length gives the scale."""
    styles = (trial.old_style, trial.new_style)
    rows = [p for p in Picture.objects.filter(athlete=trial.athlete, style__in=styles) if p.marks.keys() >= MARKS]
    if not rows:
        return HipDistances()
    trunk = filled_body(body_input(trial.athlete)).link("trunk").value
    found = {style: tuple(hip_to_bar(p, trunk) for p in rows if p.style == style) for style in styles}
    return HipDistances(old_m=found[trial.old_style], new_m=found[trial.new_style])


def hip_to_bar(picture: Picture, trunk_m: float) -> float:
    """Horizontal hip-to-bar distance, m: the marks' distance across over hip to shoulder, times the trunk."""
    width, height = picture.marks.get("size") or (picture.file.width, picture.file.height)
    hip, shoulder, bar = (picture.marks[name] for name in ("hip", "shoulder", "bar"))
    trunk_px = hypot((shoulder[0] - hip[0]) * width, (shoulder[1] - hip[1]) * height)
    return abs(bar[0] - hip[0]) * width / max(trunk_px, 1.0) * trunk_m
