"""The page that goes with an athlete to an assistant or a new coach."""

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from athletes.access.permissions import SignedInRequest, athlete_for, may
from athletes.exporting.hand_over import hand_over as gather
from athletes.log.services import club_now
from athletes.log.words import set_line


@require_safe
def hand_over(request: SignedInRequest, pk: int) -> HttpResponse:
    athlete = athlete_for(request, pk, write="plan")
    pain_shown = may(request.user, athlete, "health")
    today = club_now(athlete).date()
    page = gather(athlete, today, pain_shown)
    lines = [set_line(row, pain_shown) for row in page.sets]
    context = {"athlete": athlete, "tab": "report", "page": page, "lines": lines, "today": today}
    return render(request, "hand_over.html", context)
