"""What was changed about an athlete, by whom, from what to what."""

from django.conf import settings
from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_GET

from athletes.access.permissions import SignedInRequest, athlete_for, may_see_mass
from athletes.privacy.history import trail_line


@login_required
@require_GET
def audit(request: SignedInRequest, pk: int) -> HttpResponse:
    athlete = athlete_for(request, pk, write="privacy")
    page = Paginator(athlete.audit.select_related("actor"), 50).get_page(request.GET.get("page"))
    sees_mass = may_see_mass(request.user, athlete)
    context = {
        "athlete": athlete,
        "page": page,
        "lines": [trail_line(entry, sees_mass) for entry in page.object_list],
        "days": settings.RETENTION_DAYS["changes"],
    }
    return render(request, "audit.html", context)
