"""How each measure is taken, for somebody who has never done it."""

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from athletes.measuring.how_to import HOW_TO, OVERVIEW


@login_required
@require_safe
def how_to_measure(request: HttpRequest) -> HttpResponse:
    return render(request, "how_to_measure.html", {"here": "people", "measures": HOW_TO, "overview": OVERVIEW})
