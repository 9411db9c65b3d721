"""A meet with a log behind it, for the tests of the meet pages."""

from datetime import timedelta

from django.utils import timezone

from analysis.meets.planning import EntryPlan, plans_for
from athletes.models import Attempt, LiftSet, Meet, MeetEntry, User

TODAY = timezone.localdate()
FULL = ["squat", "bench", "deadlift"]


def a_meet(club, days=10, lifts=("deadlift",), **more):
    base = {"name": "Hall open", "bar_kind": "stiff"}
    return Meet.objects.create(club=club, day=TODAY + timedelta(days=days), lifts=list(lifts), **{**base, **more})


def enter(meet, athlete, **more):
    return MeetEntry.objects.create(meet=meet, athlete=athlete, **{"style": "sumo", **more})


def log_pulls(athlete, best=150.0, weeks=8, style="sumo", **more):
    """One triple at RPE 8 a week, all at the same level."""
    for week in range(1, weeks + 1):
        LiftSet.objects.create(
            athlete=athlete, day=TODAY - timedelta(weeks=week), load_typed=f"{best * 0.86:g}", load_unit="kg",
            load_kg=best * 0.86, reps_made=3, reps_tried=3, style=style, rir_low=2, rir_high=2,
            **{"bar_kind": "stiff", "grip": "mixed", **more},
        )  # fmt: skip


def attempt(entry, number, kg, result="", lift="deadlift", handed_in=True, **more):
    now = timezone.now()
    return Attempt.objects.create(
        entry=entry, lift=lift, number=number, load_typed=f"{kg:g}", load_unit="kg", load_kg=kg, result=result,
        declared_at=now if handed_in or result else None, ended_at=now if result else None, **more,
    )  # fmt: skip


def plan_for(entry) -> EntryPlan:
    """The plan as the club's owner reads it."""
    return plans_for([entry], owner_of(entry))[entry.pk]


def owner_of(entry) -> User:
    return entry.meet.club.memberships.get(role="owner").user
