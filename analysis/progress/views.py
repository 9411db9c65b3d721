"""See how the bests move, where misses happen, how much was pulled."""

from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from analysis.core.records.training import ProgressBoard
from analysis.progress.forms import ProgressForm
from analysis.progress.numbers_file import numbers_file
from analysis.progress.page import chosen_footing, headline, progress_panels
from analysis.progress.stored import record_from
from analysis.store.profiles import profile_of, today_in
from athletes.access.permissions import SignedInRequest, athlete_for, may
from athletes.models import Athlete


def progress_context(request: SignedInRequest, athlete: Athlete) -> dict[str, Any]:
    """What the progress page shows this viewer with the footing and span they chose."""
    as_of = today_in(athlete.club)
    board = record_from(ProgressBoard, profile_of(athlete, "progress", as_of))
    form = ProgressForm(request.GET or None, board=board)
    key, span = form.chosen
    footing = chosen_footing(board, key)
    form.initial = {"footing": footing.key if footing else "", "span": span}
    return {
        "tab": "progress",
        "athlete": athlete,
        "as_of": as_of,
        "board": board,
        "form": form,
        "footing": footing,
        "headline": headline(footing, as_of, request.user),
        "findings": board.private_findings if may(request.user, athlete, "health") else board.findings,
        "panels": progress_panels(board, footing, span, request.user),
        "page": "progress",
        "query": request.GET.urlencode(),
    }


@login_required
@require_safe
def progress(request: SignedInRequest, pk: int) -> HttpResponse:
    """The progress page of one athlete, read from the stored board."""
    return render(request, "progress.html", progress_context(request, athlete_for(request, pk)))


@login_required
@require_safe
def progress_numbers(request: SignedInRequest, pk: int, figure: str) -> HttpResponse:
    """One figure's numbers as a CSV file, of the same footing and span."""
    athlete = athlete_for(request, pk)
    return numbers_file(progress_context(request, athlete)["panels"], figure)
