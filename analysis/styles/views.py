"""Compare the styles for one athlete, and record which is the main one."""

from typing import Any

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from analysis.core.records.plain import to_plain
from analysis.store.profiles import profile_of, today_in
from analysis.styles.page import comparison_for
from analysis.text.say import reader_of
from analysis.text.stored import said_answer
from analysis.trials.services import decide_main_style
from athletes.access.permissions import SignedInRequest, athlete_for, may
from athletes.models import Decision
from athletes.models.choices import Style
from athletes.units.fields import choice_field


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def styles(request: SignedInRequest, pk: int) -> HttpResponse:
    """Reasons for and against each style, the odds they add up to, and the coach's decision."""
    athlete = athlete_for(request, pk, write="decide" if request.method == "POST" else "")
    as_of = today_in(athlete.club)
    comparison = comparison_for(athlete, request.user, as_of)
    stored = profile_of(athlete, "decision", as_of, sees_health=may(request.user, athlete, "health"))
    form = MainStyleForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        form.instance.on = as_of
        form.instance.snapshot = stored | {"reasons": to_plain(comparison.found.reasons)}
        decide_main_style(athlete, form.instance, request.user)
        messages.success(request, "The decision is recorded with its reasons; the athlete reads your words.")
        return redirect("styles", pk)
    context = {
        "tab": "styles",
        "athlete": athlete,
        "as_of": as_of,
        "comparison": comparison,
        "answer": said_answer(stored, reader_of(athlete, request.user)),
        "form": form,
        "decisions": athlete.decisions.select_related("decided_by")[:10],
    }
    return render(request, "styles.html", context)


class MainStyleForm(forms.ModelForm):
    """Main style, reasons for the coach's file, words for the lifter."""

    class Meta:
        model = Decision
        fields = ("main_style", "reasons", "words_for_athlete")
        labels = {"main_style": "Main style", "words_for_athlete": "In plain words for the lifter"}
        widgets = {"reasons": forms.Textarea(attrs={"rows": 4}), "words_for_athlete": forms.Textarea(attrs={"rows": 3})}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["main_style"].required = True
        choice_field(self, "main_style").choices = [("", "choose"), *Style.choices]
