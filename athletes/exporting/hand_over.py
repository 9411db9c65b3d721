"""What an assistant or a new coach must know about one athlete, gathered on one page."""

from dataclasses import dataclass
from datetime import date

from athletes.models import Athlete, Decision, FirstMeeting, HealthNote, LiftSet, MeetEntry, PlanItem, Trial
from athletes.models.choices import HealthKind, TrialStatus

LAST_SETS = 12


@dataclass(frozen=True)
class HandOver:
    """The page's parts; `pain` is None for readers who may not see it, else a list that may be empty."""

    decision: Decision | None
    trial: Trial | None
    trial_week: int
    pain: list[HealthNote] | None
    first: FirstMeeting | None
    plan: list[PlanItem]
    meet: MeetEntry | None
    told_meet: str
    sets: list[LiftSet]


def week_of(trial: Trial, today: date) -> int:
    """Which week of the trial today is in: 1 on its first day."""
    return max(1, (today - trial.started_on).days // 7 + 1)


def hand_over(athlete: Athlete, today: date, pain_shown: bool) -> HandOver:
    """Gather the page for a reader who may or may not see pain."""
    trial = athlete.trials.filter(status=TrialStatus.RUNNING).first()
    first = FirstMeeting.objects.filter(athlete=athlete).first()
    plan = list(athlete.plan_items.filter(day__gte=today).order_by("day", "order")[:10])
    meet = athlete.meet_entries.filter(meet__day__gte=today).select_related("meet").order_by("meet__day").first()
    return HandOver(
        athlete.decisions.select_related("decided_by", "trial").order_by("-on", "-pk").first(),
        trial,
        week_of(trial, today) if trial else 0,
        limits_of(athlete) if pain_shown else None,
        first,
        plan,
        meet,
        _told_meet(first, today),
        list(athlete.sets.select_related("bar").order_by("-day", "-order", "-pk")[:LAST_SETS]),
    )


def limits_of(athlete: Athlete) -> list[HealthNote]:
    """Health notes that still hold, clearances with them."""
    return list(
        athlete.health_notes.filter(ended_on__isnull=True).exclude(kind=HealthKind.OTHER, text="").order_by("-noted_on")
    )


def _told_meet(first: FirstMeeting | None, today: date) -> str:
    if first is None or first.next_meet_on is None or first.next_meet_on < today:
        return ""
    name = first.next_meet_name or "a meet"
    return f"{name}, {first.next_meet_on:%d %b %Y} (told at the first meeting)"
