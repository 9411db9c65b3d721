"""One page: which style, why, what next; and the same on paper, signed by hand."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from analysis.decision.page import ShownDecision, ShownList, coach_words, decision_for
from analysis.store.profiles import Sources, today_in
from athletes.access.permissions import SignedInRequest, athlete_for, may
from athletes.access.visibility import is_minor
from athletes.log.words import plan_line

SIDES = ("For ", "Against ")
PLANNED = 4  # lines of the next planned days on paper
NEXT = "Would tell most"


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
    """One A4 page of the answer for the lifter or a guardian; no reason on it is private."""
    athlete = athlete_for(request, pk)
    as_of = today_in(athlete.club)
    shown = decision_for(athlete, request.user, Sources(athlete, as_of, sees_health=False), private=False)
    upcoming = athlete.plan_items.select_related("bar").filter(day__gte=as_of).order_by("day")
    context = {
        "tab": "report",
        "athlete": athlete,
        "as_of": as_of,
        "shown": shown,
        "words": coach_words(athlete),
        "beside": beside(shown),
        "next": next((one for one in shown.lists if one.name == NEXT), None),
        "minor": is_minor(athlete, as_of),
        "planned": [plan_line(item) for item in upcoming[:PLANNED]],
    }
    return render(request, "report.html", context)


def beside(shown: ShownDecision) -> list[ShownList]:
    """For and against, which stand side by side above the signatures."""
    return [one for one in shown.lists if one.name.startswith(SIDES)]
