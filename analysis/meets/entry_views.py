"""Enter lifters and rivals, correct an entry, take one off, write its deadlifts into the log."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from analysis.meets.forms import EntryForm
from athletes.access.permissions import WORKERS, SignedInRequest, athlete_for, club_for, may_see_mass
from athletes.meets.services import save_entry, withdraw_entry, write_to_log
from athletes.models import Meet, MeetEntry


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def meet_enter(request: SignedInRequest, pk: int) -> HttpResponse:
    """Enter a lifter of the club, or a rival by name; body mass is asked on the entry's own form."""
    meet = meet_for(request, pk)
    form = EntryForm(request.POST or None, meet=meet, asks_mass=False)
    if request.method == "POST" and form.is_valid():
        entry = save_entry(form.save(commit=False), request.user)
        messages.success(request, f"{entry} is entered.")
        return redirect("meet", pk)
    return render(request, "meet_entry_form.html", {"here": "meets", "meet": meet, "form": form})


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def meet_entry_edit(request: SignedInRequest, pk: int, entry: int) -> HttpResponse:
    """Correct an entry: style, lot, goal, and for those who may see it body mass."""
    found = entry_for(request, pk, entry, write="plan")
    asks = found.athlete_id is not None and may_see_mass(request.user, found.own_athlete)
    form = EntryForm(request.POST or None, instance=found, meet=found.meet, asks_mass=asks)
    if request.method == "POST" and form.is_valid():
        save_entry(form.save(commit=False), request.user)
        messages.success(request, f"The entry of {found} is changed.")
        return redirect("meet-entry", pk, entry)
    context = {"here": "meets", "meet": found.meet, "entry": found, "form": form, "asks_mass": asks}
    return render(request, "meet_entry_form.html", context)


@login_required
@require_POST
def meet_withdraw(request: SignedInRequest, pk: int, entry: int) -> HttpResponse:
    """Take an entry off; one with results stays, because results are history."""
    found = entry_for(request, pk, entry, write="plan")
    if any(attempt.result for attempt in found.attempts.all()):
        messages.error(request, f"{found} has results at this meet and stays entered.")
        return redirect("meet-entry", pk, entry)
    withdraw_entry(found, request.user)
    messages.success(request, f"{found} is taken off the meet.")
    return redirect("meet", pk)


@login_required
@require_POST
def meet_to_log(request: SignedInRequest, pk: int, entry: int) -> HttpResponse:
    """Write the deadlift results into the lift log, each once."""
    found = entry_for(request, pk, entry, write="decide")
    if found.athlete_id is None:
        raise PermissionDenied
    written = write_to_log(found, request.user)
    words = f"{written} attempts now stand in the log of {found}." if written else "The log holds them already."
    messages.success(request, words)
    return redirect("meet-entry", pk, entry)


def meet_for(request: SignedInRequest, pk: int) -> Meet:
    """A meet of a club the user works in; 404 for everybody else."""
    meet = get_object_or_404(Meet.objects.select_related("club"), pk=pk)
    club_for(request, meet.club_id, WORKERS)
    return meet


def entry_for(request: SignedInRequest, pk: int, entry: int, write: str = "") -> MeetEntry:
    """An entry: a rival for those who work in the club, a lifter for those who may see the lifter."""
    rows = MeetEntry.objects.select_related("athlete", "athlete__club", "meet", "meet__club")
    found = get_object_or_404(rows.prefetch_related("attempts"), pk=entry, meet_id=pk)
    if found.athlete_id is None:
        club_for(request, found.meet.club_id, WORKERS)
    else:
        found.athlete = athlete_for(request, found.athlete_id, write=write)
    return found
