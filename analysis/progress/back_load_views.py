"""See what the lower back was asked to hold, and how heavy pulls are spaced."""

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from analysis.progress.back_load import back_page
from analysis.progress.panel import numbers_file
from analysis.store.profiles import profile_of, today_in
from athletes.access.permissions import SignedInRequest, athlete_for, may


@login_required
@require_safe
def back_load(request: SignedInRequest, pk: int) -> HttpResponse:
    """The back-load page of one athlete, read from the stored review."""
    athlete = athlete_for(request, pk)
    as_of = today_in(athlete.club)
    payload = profile_of(athlete, "back-load", as_of, sees_health=may(request.user, athlete, "health"))
    context = {
        "tab": "back-load",
        "athlete": athlete,
        "as_of": as_of,
        "seen": back_page(payload, athlete, request.user),
        "problem": payload["problem"],
        "may_set": may(request.user, athlete, "decide"),
        "page": "back-load",
    }
    return render(request, "back_load.html", context)


@login_required
@require_safe
def back_load_numbers(request: SignedInRequest, pk: int, figure: str) -> HttpResponse:
    """One figure's numbers as a CSV file."""
    athlete = athlete_for(request, pk)
    sees_health = may(request.user, athlete, "health")
    payload = profile_of(athlete, "back-load", today_in(athlete.club), sees_health=sees_health)
    seen = back_page(payload, athlete, request.user)
    if seen is None:
        raise Http404("There is no such figure.")
    return numbers_file(seen.panels, figure)
