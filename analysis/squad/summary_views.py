"""The answer on paper: one page for the lifter, the coach and a guardian, signed by hand."""

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from analysis.decision.page import ShownDecision, ShownList, coach_words, decision_for
from analysis.store.profiles import Sources, today_in
from athletes.access.permissions import SignedInRequest, athlete_for
from athletes.access.visibility import is_minor

SIDES = ("For ", "Against ")
NEXT = "Would tell most"


@login_required
@require_safe
def report(request: SignedInRequest, pk: int) -> HttpResponse:
    """One A4 page of the answer for the lifter or a guardian; no reason on it is private."""
    athlete = athlete_for(request, pk)
    as_of = today_in(athlete.club)
    shown = decision_for(athlete, request.user, Sources(athlete, as_of, sees_health=False), private=False)
    context = {
        "tab": "report",
        "athlete": athlete,
        "as_of": as_of,
        "shown": shown,
        "words": coach_words(athlete),
        "beside": beside(shown),
        "next": next((one for one in shown.lists if one.name == NEXT), None),
        "minor": is_minor(athlete, as_of),
    }
    return render(request, "report.html", context)


def beside(shown: ShownDecision) -> list[ShownList]:
    """For and against, which stand side by side above the signatures."""
    return [one for one in shown.lists if one.name.startswith(SIDES)]
