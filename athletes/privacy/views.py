"""What is kept and for how long; who looked."""

from django.conf import settings
from django.contrib.auth.decorators import login_not_required, login_required
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_GET

from athletes.access.permissions import SignedInRequest, athlete_for, may_see_mass
from athletes.access.visibility import SMALLEST_GROUP
from athletes.privacy.history import trail_line

PAGE_WORDS = {
    "summary": "summary",
    "athlete-edit": "name and standing",
    "first-meeting": "first meeting",
    "health-notes": "health notes",
    "weak-link": "weak link",
    "export-athlete": "data to take out",
    "prepared-file": "a file taken out",
    "take-file": "a file taken out",
    "audit": "changes",
    "looks": "who looked",
}


@login_not_required
@require_GET
def privacy(request: HttpRequest) -> HttpResponse:
    kept = {kind.replace(" ", "_").replace("-", "_"): days for kind, days in settings.RETENTION_DAYS.items()}
    return render(request, "privacy.html", {"kept": kept, "least": SMALLEST_GROUP})


@login_required
@require_GET
def looks(request: HttpRequest, pk: int) -> HttpResponse:
    """Who looked at this athlete, newest first."""
    athlete = athlete_for(request, pk, write="privacy")
    rows = athlete.looks.select_related("viewer").order_by("-day", "viewer_id", "page")
    page = Paginator(rows, 100).get_page(request.GET.get("page"))
    for row in page.object_list:
        row.page_words = PAGE_WORDS.get(row.page, row.page.replace("-", " "))
    context = {"athlete": athlete, "page": page, "days": settings.RETENTION_DAYS["looks"]}
    return render(request, "looks.html", context)


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
