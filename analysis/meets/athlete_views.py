"""An athlete's own meets: what comes with its plan, what was with its results."""

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from analysis.meets.entry import entry_page
from analysis.meets.listing import entries_of_athlete
from analysis.meets.planning import plans_for
from analysis.store.profiles import today_in
from athletes.access.permissions import SignedInRequest, athlete_for, may, may_see_mass


@login_required
@require_safe
def athlete_meets(request: SignedInRequest, pk: int) -> HttpResponse:
    """The meets of one athlete; body mass, class and points only for those who may see them."""
    athlete = athlete_for(request, pk)
    today = today_in(athlete.club)
    sees_health, sees_mass = may(request.user, athlete, "health"), may_see_mass(request.user, athlete)
    ahead, behind = entries_of_athlete(athlete, today)
    plans = plans_for(ahead)
    context = {
        "tab": "meets",
        "athlete": athlete,
        "ahead": [(entry, entry_page(entry, plans[entry.pk], None, sees_health, sees_mass)) for entry in ahead],
        "behind": [(entry, entry_page(entry, None, None, sees_health, sees_mass)) for entry in behind],
    }
    return render(request, "athlete_meets.html", context)
