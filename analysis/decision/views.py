"""Which style, why, what next: on a page, and on one sheet of paper."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from analysis.decision.page import decision_for
from analysis.store.profiles import Sources, today_in
from analysis.text.say import reader_of
from athletes.access.permissions import SignedInRequest, athlete_for, may
from athletes.log.words import plan_line
from athletes.models import Athlete, User

PLANNED = 4  # lines of the next planned days on paper
BESTS = 3  # kinds of pull on paper, those with most days; all of them stand in the log


@login_required
@require_safe
def decision(request: SignedInRequest, pk: int) -> HttpResponse:
    """The one answer about style of an athlete."""
    athlete = athlete_for(request, pk)
    sources = Sources(athlete, today_in(athlete.club), sees_health=may(request.user, athlete, "health"))
    shown = decision_for(athlete, request.user, sources)
    return render(request, "decision.html", {"athlete": athlete, "tab": "decision", "shown": shown})


@login_required
@require_safe
def report(request: SignedInRequest, pk: int) -> HttpResponse:
    """One page to print for the lifter or a guardian."""
    return render(request, "report.html", report_context(athlete_for(request, pk), request.user))


def report_context(athlete: Athlete, viewer: User) -> dict[str, Any]:
    """The answer as anybody may read it: paper goes round, so nothing private is on it, whoever prints."""
    as_of = today_in(athlete.club)
    sources = Sources(athlete, as_of, sees_health=False)
    reader = replace(reader_of(athlete, viewer), allowed=frozenset(), own=False)
    shown = decision_for(athlete, viewer, sources, reader)
    summary = sources.profile("summary")
    upcoming = athlete.plan_items.select_related("bar").filter(day__gte=as_of).order_by("day")
    stop = "Hip, groin, glute or back pain: stop."
    return {
        "tab": "report",
        "athlete": athlete,
        "as_of": as_of,
        "shown": shown,
        "charts": [one for one in (shown.third, shown.demands) if one],
        "against": next((one for one in shown.lists if one.name.startswith("Against")), None),
        "for": next((one for one in shown.lists if one.name.startswith("For ")), None),
        "cautions": [line for line in shown.cautions if line != stop],
        "decided": athlete.decisions.select_related("decided_by").first(),
        "planned": [plan_line(item) for item in upcoming[:PLANNED]],
        "bests": summary["bests"][:BESTS],
        "next_meet": date.fromisoformat(summary["next_meet"]) if summary["next_meet"] else None,
    }
