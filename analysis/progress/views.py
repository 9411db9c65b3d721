"""See what was lifted and whether it moves: the log of an athlete, its figures' numbers, its old addresses."""

from datetime import date
from typing import Any

from django import forms
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse, HttpResponsePermanentRedirect
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe

from analysis.core.records.training import BackReview, ProgressBoard
from analysis.core.training.movement import log_heading
from analysis.progress.days import latest_days
from analysis.progress.page import (
    SPAN_WORDS,
    best_links,
    best_singles,
    chosen_footing,
    details_of,
    events_of,
    log_lines,
    main_figure,
    span_of,
    weeks_of,
)
from analysis.progress.panel import numbers_file, panel
from analysis.progress.stored import record_from
from analysis.store.profiles import Sources, today_in
from analysis.text.say import reader_of, say
from athletes.access.permissions import SignedInRequest, athlete_for, may
from athletes.models import Athlete
from athletes.units.fields import choice_field


def log_context(request: SignedInRequest, athlete: Athlete) -> dict[str, Any]:
    """What the log shows this viewer with the kind of pull and the span they chose."""
    viewer, health = request.user, may(request.user, athlete, "health")
    sources = Sources(athlete, today_in(athlete.club), sees_health=health)
    sources.look_up("progress", "back-load", "summary")
    board = record_from(ProgressBoard, sources.profile("progress"))
    back = sources.profile("back-load")["review"]
    form = LogForm(request.GET or None, board=board)
    key, chosen = form.chosen
    footing, span = chosen_footing(board, key), span_of(board, chosen)
    form.initial = {"footing": footing.key if footing else "", "span": chosen}
    weeks = weeks_of(record_from(BackReview, back) if back else None)
    reader = reader_of(athlete, viewer)
    heading, ground = log_heading(footing.series if footing else (), board.pulls, board.last, board.as_of)
    return {
        "tab": "log",
        "athlete": athlete,
        "as_of": board.as_of,
        "heading": say(heading, reader),
        "ground": say(ground, reader),
        "form": form,
        "footing": footing,
        "kinds": len(board.footings),
        "shown": ", ".join(footing.label.split(", ")[1:3]) if footing else "",
        "findings": board.findings,
        "figure": main_figure(footing, span, viewer, events_of(athlete), weeks),
        "lines": log_lines(board, footing, span, viewer),
        "links": best_links(footing),
        "details": details_of(footing, board.as_of, viewer),
        "singles": best_singles(board, viewer),
        "summary": dated(sources.profile("summary")),
        "days": latest_days(athlete, viewer.weight_unit, health),
        "query": request.GET.urlencode(),
        "may_bring_in": may(viewer, athlete, "decide"),
        "may_export": health,
    }


def dated(payload: dict[str, Any]) -> dict[str, Any]:
    """A stored summary with the days of its bests as dates again."""
    for line in payload["bests"]:
        for key in ("single_on", "last_on"):
            line[key] = date.fromisoformat(line[key]) if line[key] else None
    for line in payload["rep_bests"]:
        line["day"] = date.fromisoformat(line["day"])
    return payload


@login_required
@require_safe
def log(request: SignedInRequest, pk: int) -> HttpResponse:
    """The log of one athlete, read from the stored board."""
    return render(request, "log.html", log_context(request, athlete_for(request, pk)))


@login_required
@require_safe
def log_numbers(request: SignedInRequest, pk: int, figure: str) -> HttpResponse:
    """One figure's numbers as a CSV file, of the same kind of pull and span."""
    context = log_context(request, athlete_for(request, pk))
    shown = [context["figure"]] if context["figure"] else []
    return numbers_file([panel("best", "", shown, ""), *(line.panel for line in context["lines"])], figure)


@login_required
@require_safe
def moved_to_log(request: SignedInRequest, pk: int, figure: str = "") -> HttpResponse:
    """Where progress and bests stand now, with what was asked for; nothing is told to who may not see the athlete."""
    athlete = athlete_for(request, pk)
    address = reverse("log-numbers", args=[athlete.pk, figure]) if figure else reverse("log", args=[athlete.pk])
    query = request.GET.urlencode()
    return HttpResponsePermanentRedirect(f"{address}?{query}" if query else address)


class LogForm(forms.Form):
    """Which comparable sets, and since when; an unknown choice is said and the usual one is shown."""

    footing = forms.ChoiceField(label="Kind of pull", required=False)
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
