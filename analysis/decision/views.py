"""One page: which style, why, what next."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from analysis.decision.page import decision_for
from analysis.store.profiles import Sources, today_in
from athletes.access.permissions import SignedInRequest, athlete_for, may


@login_required
@require_safe
def decision(request: SignedInRequest, pk: int) -> HttpResponse:
    """The one answer about style of an athlete."""
    athlete = athlete_for(request, pk)
    sources = Sources(athlete, today_in(athlete.club), sees_health=may(request.user, athlete, "health"))
    shown = decision_for(athlete, request.user, sources)
    return render(request, "decision.html", {"athlete": athlete, "tab": "decision", "shown": shown})
