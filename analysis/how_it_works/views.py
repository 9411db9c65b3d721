"""Read what the numbers are built on and how sure they are."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from analysis.how_it_works.page import sections


@login_required
@require_safe
def how_it_works(request: HttpRequest) -> HttpResponse:
    """Equations in words, constants with their sources, checks computed now, limits and cautions."""
    return render(request, "model.html", {"here": "model", "sections": sections()})
