"""Stand an athlete beside another body in one style."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from analysis.core.records.plain import CoreError
from analysis.leverages.beside import compare_context
from analysis.leverages.page import Page, page_for
from analysis.leverages.what_if import AVERAGE, CompareForm
from athletes.access.permissions import SignedInRequest, athlete_for
from athletes.models import Athlete


@login_required
@require_safe
def compare(request: SignedInRequest, pk: int) -> HttpResponse:
    """The athlete and an average body, or another athlete this viewer may see, to one scale."""
    athlete = athlete_for(request, pk)
    page = page_for(athlete, request.user)
    context = {"athlete": athlete, "tab": "leverages", "page": page}
    if not page.measured:
        return render(request, "leverages_empty.html", context)
    data = request.GET if "style" in request.GET else {"beside": AVERAGE, "style": "conventional"}
    form = CompareForm(data, page=page, viewer=request.user)
    context["form"] = form
    if form.is_valid():
        context |= _beside(request, page, form)
    return render(request, "compare.html", context)


def _beside(request: SignedInRequest, page: Page, form: CompareForm) -> dict[str, object]:
    chosen: Athlete | None = form.other()
    other = None if chosen is None else page_for(athlete_for(request, chosen.pk), request.user)
    if other is not None and not other.measured:
        form.add_error("beside", f"{other.athlete.name} has no stature measured yet, so there is no body to draw.")
        return {}
    try:
        return compare_context(page, other, form.cleaned_data["style"], form.cleaned_data["arm"])
    except CoreError as problem:
        form.add_error(None, f"These measurements cannot belong to one body: {problem.quantity}, {problem.reason}.")
        return {}
