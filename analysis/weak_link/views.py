"""See which link the log points to, with its doubt, and what would tell more."""

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from analysis.store.profiles import profile_of, today_in
from analysis.weak_link.page import for_viewer
from athletes.access.permissions import SignedInRequest, athlete_for, may


@login_required
@require_safe
def weak_link(request: SignedInRequest, pk: int) -> HttpResponse:
    """The weak-link page of one athlete, read from the stored profile."""
    athlete = athlete_for(request, pk)
    as_of = today_in(athlete.club)
    report = for_viewer(profile_of(athlete, "weak-link", as_of), may(request.user, athlete, "health"))
    context = {
        "tab": "weak-link",
        "athlete": athlete,
        "as_of": as_of,
        "report": report,
        "offers_tests": may(request.user, athlete, "decide"),
    }
    return render(request, "weak_link.html", context)
