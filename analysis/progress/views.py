"""See how the bests move, where misses happen, how much was pulled."""

from typing import Any

from django import forms
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from analysis.core.records.training import ProgressBoard
from analysis.progress.page import SPAN_WORDS, chosen_footing, headline, progress_panels
from analysis.progress.panel import numbers_file
from analysis.progress.stored import record_from
from analysis.store.profiles import profile_of, today_in
from athletes.access.permissions import SignedInRequest, athlete_for, may
from athletes.models import Athlete
from athletes.units.fields import choice_field


def progress_context(request: SignedInRequest, athlete: Athlete) -> dict[str, Any]:
    """What the progress page shows this viewer with the footing and span they chose."""
    as_of = today_in(athlete.club)
    sees_health = may(request.user, athlete, "health")
    board = record_from(ProgressBoard, profile_of(athlete, "progress", as_of, sees_health=sees_health))
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
        "findings": board.findings,
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


class ProgressForm(forms.Form):
    """Which comparable sets, and since when; an unknown choice is said and the usual one is shown."""

    footing = forms.ChoiceField(label="Comparable sets", required=False)
    span = forms.ChoiceField(label="Span", choices=SPAN_WORDS, required=False)

    def __init__(self, *args: Any, board: ProgressBoard, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        choices = [(f.key, f"{f.label} ({f.sessions} days)") for f in board.footings]
        choice_field(self, "footing").choices = choices
        for name, words in (("footing", "These sets are not in this log"), ("span", "There is no such span")):
            self.fields[name].error_messages["invalid_choice"] = f"{words}; the usual ones are shown instead."

    @property
    def chosen(self) -> tuple[str, str]:
        """Footing key ("" for the usual one) and span."""
        data = getattr(self, "cleaned_data", {}) if self.is_valid() or self.is_bound else {}
        return data.get("footing", ""), data.get("span") or SPAN_WORDS[0][0]
