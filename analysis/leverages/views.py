"""Show what each style does to an athlete's body: figures to scale, numbers with ranges, and what differs."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse, JsonResponse
from django.shortcuts import render
from django.views.decorators.gzip import gzip_page
from django.views.decorators.http import require_safe

from analysis.core.records.plain import CoreError
from analysis.leverages.beside import what_if_context
from analysis.leverages.page import page_for
from analysis.leverages.pictures import moving_frames
from analysis.leverages.profile import profile_context
from analysis.leverages.sweep import sweep_context
from analysis.leverages.what_if import WhatIfForm
from athletes.access.permissions import SignedInRequest, athlete_for


@login_required
@require_safe
def leverages(request: SignedInRequest, pk: int) -> HttpResponse:
    """Styles side by side for one athlete, or what to measure first."""
    athlete = athlete_for(request, pk)
    page = page_for(athlete, request.user)
    context = {"athlete": athlete, "tab": "leverages", "page": page}
    if not page.measured:
        return render(request, "leverages_empty.html", context)
    try:
        context |= profile_context(page)
    except CoreError as problem:
        context["problem"] = problem
        return render(request, "leverages_empty.html", context)
    return render(request, "leverages.html", context)


@login_required
@require_safe
@gzip_page
def leverages_frames(request: SignedInRequest, pk: int) -> HttpResponse:
    """What moves in the pictures through the pull, for the scrubber."""
    page = page_for(athlete_for(request, pk), request.user)
    if not page.measured:
        return JsonResponse({"styles": {}, "knee": 0})
    try:
        return JsonResponse(moving_frames(page.report(), page))
    except CoreError:
        return JsonResponse({"styles": {}, "knee": 0})


@login_required
@require_safe
def sweep(request: SignedInRequest, pk: int) -> HttpResponse:
    """How distance, knee bend and the length of the pull change with stance."""
    athlete = athlete_for(request, pk)
    page = page_for(athlete, request.user)
    context = {"athlete": athlete, "tab": "leverages", "page": page}
    if not page.measured:
        return render(request, "leverages_empty.html", context)
    try:
        context |= sweep_context(page)
    except CoreError as problem:
        context["problem"] = problem
        return render(request, "leverages_empty.html", context)
    return render(request, "sweep.html", context)


@login_required
@require_safe
def what_if(request: SignedInRequest, pk: int) -> HttpResponse:
    """The style as it is beside the change; `?part=1` answers with the pictures only."""
    athlete = athlete_for(request, pk)
    page = page_for(athlete, request.user)
    context = {"athlete": athlete, "tab": "leverages", "page": page}
    if not page.measured:
        return render(request, "leverages_empty.html", context)
    data = request.GET if "style" in request.GET else {"style": page.first_to_change}
    form = WhatIfForm(data, page=page)
    context["form"] = form
    try:
        if form.is_valid():
            context |= what_if_context(page, form)
    except CoreError as problem:
        form.blame(problem.quantity, problem.reason)
    part = "what_if_result.html" if request.GET.get("part") else "what_if.html"
    return render(request, part, context)
