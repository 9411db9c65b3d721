"""See what a flexible bar and straps give, by statics and by the log."""

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from analysis.progress.bar_grip import BarGripPage, bar_grip_page
from analysis.progress.panel import numbers_file
from analysis.store.club_numbers import numbers_for
from analysis.store.profiles import profile_of, today_in
from analysis.text.say import reader_of, say
from athletes.access.permissions import SignedInRequest, athlete_for, may
from athletes.models import Athlete, User


def page_of(athlete: Athlete, viewer: User) -> BarGripPage:
    """The stored board as this viewer reads it."""
    sees_health = may(viewer, athlete, "health")
    stored = profile_of(athlete, "bar-and-grip", today_in(athlete.club), sees_health=sees_health)
    return bar_grip_page(stored, numbers_for(athlete)["grip.limit_gain"], viewer)


@login_required
@require_safe
def bar_and_grip(request: SignedInRequest, pk: int) -> HttpResponse:
    """The bar and grip page of one athlete."""
    athlete = athlete_for(request, pk)
    seen, reader = page_of(athlete, request.user), reader_of(athlete, request.user)
    context = {
        "tab": "bar-and-grip",
        "athlete": athlete,
        "heading": say(seen.heading, reader),
        "ground": say(seen.ground, reader),
        "seen": seen,
        "may_set": may(request.user, athlete, "decide"),
    }
    return render(request, "bar_grip.html", context)


@login_required
@require_safe
def bar_and_grip_numbers(request: SignedInRequest, pk: int, figure: str) -> HttpResponse:
    """One figure's numbers as a CSV file."""
    return numbers_file(page_of(athlete_for(request, pk), request.user).panels, figure)
