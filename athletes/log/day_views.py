"""The optional note of a day: for the athlete and their coach only, since soreness and body mass are private."""

from datetime import date

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from athletes.access.permissions import SignedInRequest, athlete_for, may_see_mass
from athletes.log.day_form import DayNoteForm
from athletes.log.services import club_now, save_day_note
from athletes.models import TrainingDay


def day_of(iso: str) -> date:
    """The day an address names; 404 when there is no such day."""
    try:
        return date.fromisoformat(iso)
    except ValueError:
        raise Http404("No such day.") from None


@require_http_methods(["GET", "POST"])
@login_required
def day_note(request: SignedInRequest, pk: int, iso: str) -> HttpResponse:
    athlete = athlete_for(request, pk, write="health")
    day = day_of(iso)
    if day > club_now(athlete).date():
        raise Http404("That day has not come.")
    row = athlete.days.filter(day=day).first() or TrainingDay(
        athlete=athlete, day=day, mass_unit=request.user.weight_unit
    )
    with_mass = may_see_mass(request.user, athlete)
    form = DayNoteForm(request.POST or None, instance=row, with_mass=with_mass)
    if request.method == "POST" and form.is_valid():
        save_day_note(request.user, form.save(commit=False))
        messages.success(request, f"The note of {day:%-d %B %Y} is kept.")
        return redirect("lifts", athlete.pk)
    page = {"athlete": athlete, "tab": "lifts", "form": form, "day": day, "with_mass": with_mass}
    return render(request, "day_note.html", page, status=422 if form.is_bound else 200)
