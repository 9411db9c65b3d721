"""The squad as a table with every reason, and the numbers of the trade in force."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from analysis.squad.forms import SquadFilterForm
from analysis.squad.number_forms import NumbersForm
from analysis.squad.squad_table import squad_lines
from analysis.store.club_numbers import numbers_for, numbers_of_club
from analysis.store.profiles import refresh, stored_profiles, today_in
from athletes.access.permissions import DECIDERS, SignedInRequest, athlete_for, club_for, current_club, may
from athletes.models import Athlete
from athletes.people.services import change_numbers

A_PAGE = 100  # rows; a squad of 500 then still answers at once


@login_required
@require_safe
def squad_table(request: SignedInRequest) -> HttpResponse:
    """One row per athlete of the club, most urgent first; sorted and filtered as asked."""
    club = current_club(request)
    as_of = today_in(club)
    form = SquadFilterForm(request.GET or None, club=club)
    athletes = form.chosen(Athlete.objects.filter(club=club, active=True), request.user)
    stored = stored_profiles(athletes, "squad", as_of, lambda one: may(request.user, one, "health"))
    profiles = refresh(stored, "squad", as_of)
    lines = form.sorted(squad_lines(profiles))
    context = {
        "here": "squad",
        "club": club,
        "as_of": as_of,
        "form": form,
        "lines": lines,
        "page": Paginator(lines, max(len(lines), 1) if request.GET.get("page") == "all" else A_PAGE).get_page(
            request.GET.get("page")
        ),
        "query": form.query,
        "waiting": sum(p.updating for p in profiles),
    }
    return render(request, "squad.html", context)


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
        "tab": "profile",
        "club": club,
        "athlete": athlete,
        "form": form,
        "frame": "athlete_base.html" if athlete else "base.html",
    }
    return render(request, "club_settings.html", context)
