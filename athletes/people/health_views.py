"""Private notes about pain and injury: the athlete and their coach, nobody else."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from athletes.access.permissions import SignedInRequest, athlete_for
from athletes.models import Athlete, HealthNote
from athletes.people.first_meeting_form import HealthNoteForm
from athletes.people.services import add_health_note, end_health_note


@login_required
@require_http_methods(["GET", "POST"])
def health_notes(request: SignedInRequest, pk: int) -> HttpResponse:
    athlete = athlete_for(request, pk, write="health")
    if request.method == "POST" and "end" in request.POST:
        return end_note(request, athlete)
    form = HealthNoteForm(request.POST or None, instance=HealthNote(athlete=athlete))
    if request.method == "POST" and form.is_valid():
        add_health_note(request.user, form.save(commit=False))
        messages.success(request, "Noted, for the athlete and their coach only.")
        return redirect("health-notes", athlete.pk)
    context = {"athlete": athlete, "tab": "build", "form": form, "notes": athlete.health_notes.select_related("author")}
    return render(request, "health.html", context)


def end_note(request: SignedInRequest, athlete: Athlete) -> HttpResponse:
    number = request.POST["end"]
    known = number if number.isascii() and number.isdecimal() and len(number) < 16 else 0
    note = get_object_or_404(HealthNote, athlete=athlete, pk=known)
    end_health_note(request.user, note, timezone.localdate())
    messages.success(request, "Marked as over from today.")
    return redirect("health-notes", athlete.pk)
