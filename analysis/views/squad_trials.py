"""See the squad's trials side by side, and one athlete's styles through the years."""

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from analysis.advice.style_years import style_years
from analysis.bridge import lifter_record
from analysis.club_numbers import numbers_for
from analysis.figures.style_years import style_years_card
from analysis.profiles import today_in
from analysis.trial_page import trial_view
from athletes.models import Trial
from athletes.models.choices import TrialStatus
from athletes.permissions import athlete_for, current_club, may


@login_required
@require_safe
def squad_trials(request: HttpRequest) -> HttpResponse:
    """Every running trial of the club on one page."""
    club = current_club(request)
    as_of = today_in(club)
    rows = Trial.objects.filter(athlete__club=club, athlete__active=True, status=TrialStatus.RUNNING)
    rows = rows.select_related("athlete", "athlete__club").order_by("decide_on")
    seen = [trial_view(trial, as_of, may(request.user, trial.athlete, "health")) for trial in rows]
    return render(request, "analysis/squad_trials.html", {"here": "squad", "club": club, "as_of": as_of, "seen": seen})


@login_required
@require_safe
def style_history(request: HttpRequest, pk: int) -> HttpResponse:
    """An athlete's styles through the years, with pauses shaded."""
    athlete = athlete_for(request, pk)
    as_of = today_in(athlete.club)
    sees_health = may(request.user, athlete, "health")
    lifter = lifter_record(athlete, as_of)
    years = style_years(lifter, as_of, numbers_for(athlete), name_pain=sees_health)
    context = {
        "tab": "trial",
        "athlete": athlete,
        "years": years,
        "figure": style_years_card(years, request.user.weight_unit) if years.points else None,
        "decisions": athlete.decisions.select_related("decided_by", "trial"),
    }
    return render(request, "analysis/style_history.html", context)
