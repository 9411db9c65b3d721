"""Review a squad: who needs the coach's eye this week, and why."""

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from analysis.forms import SquadFilterForm
from analysis.profiles import refresh, stored_profiles, today_in
from analysis.squad_table import squad_lines
from athletes.models import Athlete
from athletes.permissions import current_club


@login_required
@require_safe
def squad(request: HttpRequest) -> HttpResponse:
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
        "waiting": sum(p.updating for p in profiles),
    }
    return render(request, "analysis/squad.html", context)
