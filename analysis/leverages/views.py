"""Show what each style does to an athlete's body: two figures on one floor that move, and what lies behind them."""

from __future__ import annotations

from collections.abc import Callable

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse, HttpResponsePermanentRedirect, JsonResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.gzip import gzip_page
from django.views.decorators.http import require_safe

from analysis.core.records.plain import CoreError
from analysis.leverages.drawn import asked_of, details_context, drawn_context, pair_report
from analysis.leverages.page import Page, page_for
from analysis.leverages.pictures import curve_cards, front_views
from analysis.leverages.plate import moving
from analysis.leverages.sweep import sweep_context
from athletes.access.permissions import SignedInRequest, athlete_for


@login_required
@require_safe
def leverages(request: SignedInRequest, pk: int) -> HttpResponse:
    """Two styles side by side for one athlete, or what to measure first; `?part=1` answers with the picture only."""
    athlete = athlete_for(request, pk)
    page = page_for(athlete, request.user)
    context: dict[str, object] = {"athlete": athlete, "tab": "leverages", "page": page}
    if not page.measured:
        return render(request, "leverages_empty.html", context)
    part = bool(request.GET.get("part"))
    try:
        context |= drawn_context(page, asked_of(page, request.GET), request.user)
        context |= {} if part else details_context(page)
    except CoreError as problem:
        context["problem"] = problem
        return render(request, "leverages_empty.html", context)
    return render(request, "leverages_drawn.html" if part else "leverages.html", context)


@login_required
@require_safe
@gzip_page
def leverages_frames(request: SignedInRequest, pk: int) -> HttpResponse:
    """What moves in the picture through the pull, for the slider; the address asks for the same as the page's."""
    page = page_for(athlete_for(request, pk), request.user)
    if not page.measured:
        return JsonResponse({"styles": {}})
    asked = asked_of(page, request.GET)
    try:
        return JsonResponse(moving(pair_report(page, asked), page, asked.curve))
    except CoreError:
        return JsonResponse({"styles": {}})


@login_required
@require_safe
def curves(request: SignedInRequest, pk: int) -> HttpResponse:
    """Every style shown over the bar's height, and from the front."""
    athlete = athlete_for(request, pk)
    return _page(request, page_for(athlete, request.user), "leverages_curves.html", _curves)


def _page(
    request: SignedInRequest, page: Page, template: str, found: Callable[[Page], dict[str, object]]
) -> HttpResponse:
    """A page behind the place; what to measure first where this body cannot be drawn."""
    context: dict[str, object] = {"athlete": page.athlete, "tab": "leverages", "page": page}
    if not page.measured:
        return render(request, "leverages_empty.html", context)
    try:
        context |= found(page)
    except CoreError as problem:
        return render(request, "leverages_empty.html", context | {"problem": problem})
    return render(request, template, context)


def _curves(page: Page) -> dict[str, object]:
    styles = [s for s in page.report().styles if s.joints]
    return {"fronts": front_views(styles, page), "figures": curve_cards(styles, page)}


@login_required
@require_safe
def sweep(request: SignedInRequest, pk: int) -> HttpResponse:
    """How distance, knee bend and the length of the pull change with stance."""
    athlete = athlete_for(request, pk)
    return _page(request, page_for(athlete, request.user), "sweep.html", sweep_context)


@login_required
@require_safe
def what_if(request: SignedInRequest, pk: int) -> HttpResponse:
    """The old address of a changed setup: the place itself takes it now."""
    athlete_for(request, pk)
    query = request.GET.urlencode()
    return HttpResponsePermanentRedirect(reverse("leverages", args=[pk]) + (f"?{query}" if query else ""))
