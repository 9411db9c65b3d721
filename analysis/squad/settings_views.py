"""Change the numbers of the trade for a club or for one athlete, each with where it comes from."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from analysis.squad.number_forms import NumbersForm
from analysis.store.club_numbers import numbers_for, numbers_of_club
from athletes.access.permissions import DECIDERS, SignedInRequest, athlete_for, club_for, current_club
from athletes.people.numbers import change_numbers


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def club_settings(request: SignedInRequest, pk: int | None = None) -> HttpResponse:
    """Show and change the numbers in force; coaches and owners only."""
    athlete = athlete_for(request, pk, write="decide") if pk else None
    club = athlete.club if athlete else club_for(request, current_club(request).pk, DECIDERS)
    base = numbers_of_club(club)
    form = NumbersForm(request.POST or None, now=numbers_for(athlete) if athlete else base)
    if request.method == "POST" and form.is_valid():
        changed = change_numbers(club, athlete, form.changed_numbers(), request.user)
        messages.success(request, f"{len(changed)} numbers changed." if changed else "Nothing was changed.")
        return redirect(request.path)
    context = {
        "here": "club",
        "tab": "settings",
        "club": club,
        "athlete": athlete,
        "form": form,
        "frame": "athlete_base.html" if athlete else "base.html",
    }
    return render(request, "club_settings.html", context)
