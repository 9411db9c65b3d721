"""See how an athlete stands: bests, the trial, what was decided and why."""

from datetime import date
from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from analysis.decision.page import decision_for
from analysis.squad.page import own_figure, own_trend
from analysis.store.profiles import Sources, today_in
from analysis.text.say import reader_of
from analysis.text.stored import said_answer
from analysis.trials.reading import running_trial
from athletes.access.permissions import SignedInRequest, athlete_for, may
from athletes.access.visibility import is_minor
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
    sources.look_up("summary", "progress", "decision")
    found = with_dates(sources.profile("summary"))
    decisions = list(athlete.decisions.select_related("decided_by", "trial")[:5])
    return {
        "athlete": athlete,
        "as_of": as_of,
        "found": found,
        "answer": said_answer(sources.profile("decision"), reader_of(athlete, viewer)),
        "trial": running_trial(athlete),
        "figure": own_figure(athlete, viewer),
        "trend": own_trend(sources, viewer),
        "decisions": decisions,
        "is_self": getattr(athlete, "viewer_role", "") == "self",
    }


@login_required
@require_safe
def summary(request: SignedInRequest, pk: int) -> HttpResponse:
    """The athlete's first page: how they are doing and why this style."""
    athlete = athlete_for(request, pk)
    return render(request, "summary.html", {"tab": "today", **summary_context(athlete, request.user)})


@login_required
@require_safe
def report(request: SignedInRequest, pk: int) -> HttpResponse:
    """One A4 page of the answer for the lifter or a guardian; no reason on it is private."""
    athlete = athlete_for(request, pk)
    as_of = today_in(athlete.club)
    sources = Sources(athlete, as_of, sees_health=False)
    shown = decision_for(athlete, request.user, sources, private=False)
    sides = ("For ", "Against ")
    context = {
        "tab": "report",
        "athlete": athlete,
        "as_of": as_of,
        "shown": shown,
        "beside": [one for one in shown.lists if one.name.startswith(sides)],
        "next": next((one for one in shown.lists if one.name == "Would tell most"), None),
        "minor": is_minor(athlete, as_of),
    }
    return render(request, "report.html", context)
