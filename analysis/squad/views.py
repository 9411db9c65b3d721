"""Review a squad: who needs the coach's eye this week, and why."""

from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from analysis.squad.forms import SquadFilterForm
from analysis.squad.squad_table import squad_lines
from analysis.store.profiles import refresh, stored_profiles, today_in
from athletes.access.permissions import SignedInRequest, current_club
from athletes.models import Athlete

A_PAGE = 100  # rows; a squad of 500 then still answers at once


@login_required
@require_safe
def squad(request: SignedInRequest) -> HttpResponse:
    """One row per athlete of the club, most urgent first; sorted and filtered as asked."""
    club = current_club(request)
    as_of = today_in(club)
    form = SquadFilterForm(request.GET or None, club=club)
    athletes = form.chosen(Athlete.objects.filter(club=club, active=True), request.user)
    profiles = refresh(stored_profiles(athletes, "squad", as_of), "squad", as_of)
    lines = form.sorted(squad_lines(profiles, request.user))
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
