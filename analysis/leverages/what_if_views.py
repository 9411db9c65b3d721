"""Try a change of setup on an athlete's picture."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from analysis.core.records.errors import CoreError
from analysis.leverages.beside import what_if_context
from analysis.leverages.page import page_for
from analysis.leverages.what_if import WhatIfForm
from athletes.access.permissions import SignedInRequest, athlete_for


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
