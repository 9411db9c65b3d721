"""Sweep an athlete's stance from narrow to the widest reachable."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from analysis.core.records.errors import CoreError
from analysis.leverages.page import page_for
from analysis.leverages.sweep import sweep_context
from athletes.access.permissions import SignedInRequest, athlete_for


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
