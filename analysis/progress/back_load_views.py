"""See what the lower back was asked to do, and how heavy pulls are spaced."""

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from analysis.core.records.messages import Message
from analysis.progress.back_load import BackPage, back_page
from analysis.progress.panel import numbers_file
from analysis.store.profiles import profile_of, today_in
from analysis.text.say import reader_of, say
from athletes.access.permissions import SignedInRequest, athlete_for, may
from athletes.models import Athlete


def seen_by(request: SignedInRequest, athlete: Athlete) -> tuple[BackPage | None, str]:
    """The stored review as this viewer reads it; without one, what is wrong with the measurements."""
    sees_health = may(request.user, athlete, "health")
    payload = profile_of(athlete, "back-load", today_in(athlete.club), sees_health=sees_health)
    return back_page(payload, athlete, request.user), payload["problem"]


@login_required
@require_safe
def back_load(request: SignedInRequest, pk: int) -> HttpResponse:
    """The back work of one athlete, read from the stored review."""
    athlete = athlete_for(request, pk)
    seen, problem = seen_by(request, athlete)
    heading, ground = (seen.heading, seen.ground) if seen else (Message("back.unknown"), Message("back.unknown.ground"))
    reader = reader_of(athlete, request.user)
    context = {
        "tab": "back-load",
        "athlete": athlete,
        "heading": say(heading, reader),
        "ground": say(ground, reader),
        "seen": seen,
        "problem": problem,
        "may_set": may(request.user, athlete, "decide"),
    }
    return render(request, "back_load.html", context)


@login_required
@require_safe
def back_load_numbers(request: SignedInRequest, pk: int, figure: str) -> HttpResponse:
    """One figure's numbers as a CSV file."""
    seen, _ = seen_by(request, athlete_for(request, pk))
    if seen is None:
        raise Http404("There is no such figure.")
    return numbers_file((seen.weeks, seen.heavy), figure)
