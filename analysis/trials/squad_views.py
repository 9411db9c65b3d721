"""See the squad's trials side by side, and one athlete's styles through the years."""

from dataclasses import dataclass

from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from analysis.core.styles.years import style_years
from analysis.figures.style_years import style_years_card
from analysis.store.bridge import lifter_seen
from analysis.store.club_numbers import numbers_for
from analysis.store.profiles import refresh, stored_profiles, today_in
from analysis.text.say import reader_of
from analysis.text.stored import SaidAnswer, said_answer
from athletes.access.permissions import SignedInRequest, athlete_for, current_club, may
from athletes.models import Athlete, Trial
from athletes.models.choices import TrialStatus

A_PAGE = 60  # trials


@dataclass(frozen=True, slots=True)
class TrialCard:
    """One running trial: the answer as it stands, days in the new style, whole weeks since the start."""

    trial: Trial
    answer: SaidAnswer
    sessions: int
    weeks: int


@login_required
@require_safe
def squad_trials(request: SignedInRequest) -> HttpResponse:
    """Every running trial of the club on one page."""
    club = current_club(request)
    as_of = today_in(club)
    rows = Trial.objects.filter(athlete__club=club, athlete__active=True, status=TrialStatus.RUNNING)
    page = Paginator(rows.select_related("athlete").order_by("decide_on", "pk"), A_PAGE).get_page(
        request.GET.get("page")
    )
    trials = {trial.athlete_id: trial for trial in page}
    athletes = Athlete.objects.filter(pk__in=trials)
    profiles = stored_profiles(athletes, "decision", as_of, lambda one: may(request.user, one, "health"))
    known = {p.athlete.pk: p.payload for p in refresh(profiles, "decision", as_of) if p.payload}
    context = {
        "here": "squad",
        "club": club,
        "as_of": as_of,
        "page": page,
        "seen": [
            TrialCard(
                trial,
                said_answer(known[pk], reader_of(trial.athlete, request.user)),
                known[pk]["days"],
                max((as_of - trial.started_on).days // 7, 0),
            )
            for pk, trial in trials.items()
            if pk in known
        ],
        "waiting": [trial for pk, trial in trials.items() if pk not in known],
    }
    return render(request, "squad_trials.html", context)


@login_required
@require_safe
def style_history(request: SignedInRequest, pk: int) -> HttpResponse:
    """An athlete's styles through the years, with pauses shaded."""
    athlete = athlete_for(request, pk)
    as_of = today_in(athlete.club)
    lifter = lifter_seen(athlete, as_of, sees_health=may(request.user, athlete, "health"))
    years = style_years(lifter, as_of, numbers_for(athlete))
    context = {
        "tab": "trial",
        "athlete": athlete,
        "years": years,
        "figure": style_years_card(years, request.user.weight_unit) if years.points else None,
        "decisions": athlete.decisions.select_related("decided_by", "trial"),
    }
    return render(request, "style_history.html", context)
