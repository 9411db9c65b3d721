"""Open the squad wall, set a reason aside, bring it back."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.http import urlencode
from django.views.decorators.http import require_POST, require_safe

from analysis.core.squad.wall import ORDER
from analysis.models import DismissedReason
from analysis.squad.tasks import ask_for
from analysis.squad.wall_page import wall_of
from analysis.store.profiles import stored_profiles, today_in
from athletes.access.permissions import SignedInRequest, athlete_for, current_club, may
from athletes.models import Athlete
from athletes.web.places import keep_order


@login_required
@require_safe
def squad(request: SignedInRequest) -> HttpResponse:
    """Who needs the coach today and this week, each with one reason and one button, and who goes as planned."""
    club = current_club(request)
    day, who, hidden = today_in(club), request.GET.get("who", "").strip()[:80], request.GET.get("hide") == "1"
    athletes = Athlete.objects.filter(club=club, active=True)
    if who:
        athletes = athletes.filter(name_key__contains=who.casefold())
    profiles = stored_profiles(athletes, "wall", day, lambda one: not hidden and may(request.user, one, "health"))
    if any(p.updating for p in profiles):
        ask_for(club)
    wall = wall_of(profiles, request.user, day, hidden)
    if not who:
        keep_order(request, wall.order)
    aside = DismissedReason.objects.filter(athlete__in=athletes).count()
    context = {
        "here": "squad",
        "club": club,
        "wall": wall,
        "who": who,
        "hidden": hidden,
        "query": asked(request),
        "pounds": request.user.weight_unit == "lb",
        "lifters": len(profiles),
        "aside": aside,
    }
    return render(request, "wall.html", context)


def asked(request: SignedInRequest) -> str:
    """Search and hidden names as the end of an address, so that they outlast a button."""
    kept = {name: request.GET[name] for name in ("who", "hide") if request.GET.get(name)}
    return f"?{urlencode(kept)}" if kept else ""


@login_required
@require_POST
def wall_aside(request: SignedInRequest, pk: int) -> HttpResponse:
    """Set a reason aside until something new is logged about it."""
    athlete = athlete_for(request, pk, write="decide")
    code, evidence = request.POST.get("code", ""), request.POST.get("evidence", "")[:80]
    if code in ORDER:
        DismissedReason.objects.update_or_create(
            athlete=athlete, code=code, defaults={"evidence": evidence, "by": request.user, "on": timezone.now()}
        )
    return redirect(reverse("squad") + asked(request))


@login_required
@require_POST
def wall_back(request: SignedInRequest, pk: int) -> HttpResponse:
    """Bring back what was set aside of a lifter: one reason, or all where none is named."""
    athlete = athlete_for(request, pk, write="decide")
    gone = DismissedReason.objects.filter(athlete=athlete)
    if request.POST.get("code"):
        gone = gone.filter(code=request.POST["code"][:20])
    gone.delete()
    return redirect(reverse("squad") + asked(request))
