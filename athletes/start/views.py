"""The checklist of a new club, and the roster that is pasted, looked over and added."""

from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from athletes.access.permissions import DECIDERS, SignedInRequest, club_for, current_club
from athletes.models import Club, User
from athletes.people.forms import coaches_of
from athletes.start.adding import add_people, reader_for
from athletes.start.checklist import steps_of
from athletes.start.roster import MOST_LINES, Entry
from athletes.units.fields import row_field

FILE_MOST = 200_000  # bytes; five hundred lines have about 30,000


class RosterForm(forms.Form):
    """A roster as text or as a text file, and whose squad the people join."""

    lines = forms.CharField(
        label="One lifter a line",
        required=False,
        max_length=FILE_MOST,
        strip=False,
        widget=forms.Textarea(attrs={"rows": 12, "spellcheck": "false", "autocomplete": "off"}),
        help_text="Name and f or m are enough; then, if you like, birth year, body mass, height, coach, with commas, "
        "semicolons or tabs between, as a spreadsheet pastes them. Such as: Ada Fell, f, 1998, 71 kg, 168 cm",
    )
    file = forms.FileField(label="Or a text file (CSV)", required=False)
    coach = forms.ModelChoiceField(
        label="Squad of", queryset=User.objects.none(), required=False, empty_label="no coach yet",
        help_text="For lines that name no coach.",
    )  # fmt: skip

    def __init__(self, club: Club, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        row_field(self, "coach").queryset = coaches_of([club.pk])

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if (sent := data.get("file")) is not None:
            data["lines"] = self._text_of(sent)
        text = data.get("lines") or ""
        if not text.strip() and not self.errors:
            self.add_error("lines", "Paste the names, or choose a file.")
        count = sum(bool(line.strip()) for line in text.splitlines())
        if count > MOST_LINES:
            self.add_error("lines", f"{count} lines; at most {MOST_LINES} are read at once. Paste them in parts.")
        return data

    def _text_of(self, sent: Any) -> str:
        if sent.size > FILE_MOST:
            self.add_error("file", f"The file has {sent.size:,} bytes; at most {FILE_MOST:,} are read.")
            return ""
        try:
            return sent.read().decode("utf-8-sig")
        except UnicodeDecodeError:
            self.add_error("file", "The file is no text in UTF-8. Save it as CSV in UTF-8, or paste its lines.")
            return ""


@require_safe
def start(request: SignedInRequest) -> HttpResponse:
    """What is still to do in a new club."""
    club = club_for(request, current_club(request).pk, DECIDERS)
    steps = steps_of(club)
    left = [step for step in steps if not step.done]
    return render(request, "start.html", {"here": "squad", "club": club, "steps": steps, "left": left})


@require_http_methods(["GET", "POST"])
def roster(request: SignedInRequest) -> HttpResponse:
    """Paste, look over, add: nobody is added who was not shown; lines that were not clear stay in the box."""
    club = club_for(request, current_club(request).pk, DECIDERS)
    if request.method == "GET":
        form = RosterForm(club, initial={"coach": request.user.pk})
        return render(request, "roster.html", {"here": "squad", "club": club, "form": form})
    form = RosterForm(club, request.POST, request.FILES)
    if not form.is_valid():
        return render(request, "roster.html", {"here": "squad", "club": club, "form": form}, status=422)
    today = timezone.localdate()
    entries = reader_for(club, request.user, today).read(form.cleaned_data["lines"])
    if "add" in request.POST:
        return _add(request, club, form, entries)
    return _look_over(request, club, form, entries)


def _look_over(request: SignedInRequest, club: Club, form: RosterForm, entries: list[Entry]) -> HttpResponse:
    """The lines as they were read, over the box they came from."""
    shown = RosterForm(club, {"lines": form.cleaned_data["lines"], "coach": request.POST.get("coach", "")})
    context = {
        "here": "squad",
        "club": club,
        "form": shown,
        "entries": entries,
        "new": [one for one in entries if one.is_new],
        "unclear": [one for one in entries if one.problems],
    }
    return render(request, "roster.html", context)


def _add(request: SignedInRequest, club: Club, form: RosterForm, entries: list[Entry]) -> HttpResponse:
    added = add_people(club, request.user, entries, form.cleaned_data["coach"], timezone.localdate())
    left = [one for one in entries if one.problems]
    if added:
        people = f"{len(added)} people are" if len(added) > 1 else f"{added[0].name} is"
        messages.success(request, f"{people} in the book.")
    if not left:
        return redirect("start")
    messages.warning(request, f"{len(left)} lines are still here: say them more clearly, or take them out.")
    text = "\n".join(one.text for one in left)
    again = RosterForm(club, {"lines": text, "coach": request.POST.get("coach", "")})
    context = {"here": "squad", "club": club, "form": again, "entries": left, "new": [], "unclear": left}
    return render(request, "roster.html", context)
