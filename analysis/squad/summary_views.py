"""See how an athlete stands: bests, the trial, what was decided and why."""

from datetime import date
from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from analysis.squad.page import own_figure, own_trend
from analysis.store.profiles import Sources, today_in
from analysis.trials.reading import running_trial
from athletes.access.permissions import SignedInRequest, athlete_for, may
from athletes.models import Athlete, User


def with_dates(payload: dict[str, Any]) -> dict[str, Any]:
    """A stored summary with its ISO days as dates again, ready to be shown."""
    for line in payload["bests"]:
        for key in ("single_on", "last_on"):
            line[key] = date.fromisoformat(line[key]) if line[key] else None
    for line in payload["rep_bests"]:
        line["day"] = date.fromisoformat(line["day"])
    for key in ("heaviest_on", "next_meet"):
        payload[key] = date.fromisoformat(payload[key]) if payload[key] else None
    return payload


def summary_context(athlete: Athlete, viewer: User) -> dict[str, Any]:
    """What the summary and the report say of an athlete today."""
    as_of = today_in(athlete.club)
    sources = Sources(athlete, as_of, sees_health=may(viewer, athlete, "health"))
    sources.look_up("summary", "progress")
    found = with_dates(sources.profile("summary"))
    decisions = list(athlete.decisions.select_related("decided_by", "trial")[:5])
    return {
        "athlete": athlete,
        "as_of": as_of,
        "found": found,
        "trial": running_trial(athlete),
        "figure": own_figure(athlete, viewer),
        "trend": own_trend(sources, viewer),
        "decisions": decisions,
        "is_self": getattr(athlete, "viewer_role", "") == "self",
    }


@login_required
@require_safe
def report(request: SignedInRequest, pk: int) -> HttpResponse:
    """One printable page for the lifter or a guardian."""
    athlete = athlete_for(request, pk)
    return render(request, "report.html", {"tab": "report", **summary_context(athlete, request.user)})
