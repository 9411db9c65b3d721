"""The first meeting with an athlete: coach and staff write it, the athlete reads it, injuries stay with the coach."""

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from athletes.access.permissions import SignedInRequest, athlete_for, may
from athletes.models import Athlete, FirstMeeting, HealthNote
from athletes.models.choices import Standing, Style
from athletes.people.first_meeting_form import FirstMeetingForm, HealthNoteForm, StyleForm
from athletes.people.services import bound_lines, save_first_meeting, stance_bounds, standing_on


@login_required
@require_http_methods(["GET", "POST"])
def first_meeting(request: SignedInRequest, pk: int) -> HttpResponse:
    athlete = athlete_for(request, pk)
    writes = may(request.user, athlete, "plan")
    if request.method == "POST" and not writes:
        raise PermissionDenied
    forms = meeting_forms(request, athlete)
    if request.method == "POST" and save(request, athlete, forms):
        messages.success(request, "The first meeting is saved.")
        return redirect("first-meeting", athlete.pk)
    stored = Athlete.objects.select_related("club").get(pk=athlete.pk)
    stored.viewer_role = athlete.viewer_role
    context = {
        "athlete": stored,
        "tab": "profile",
        "writes": writes,
        "private": may(request.user, athlete, "health"),
        "bound_lines": bound_lines(stance_bounds(stored)),
        "may_edit": may(request.user, athlete, "decide"),
        "notes": athlete.health_notes.filter(ended_on__isnull=True) if may(request.user, athlete, "health") else [],
        "standing_word": Standing(standing_on(stored, timezone.localdate())).label,
        "wrong": request.method == "POST",
    }
    return render(request, "first_meeting.html", context | forms)


def meeting_forms(request: SignedInRequest, athlete: Athlete) -> dict[str, Any]:
    """The page's forms, filled from the request or from what is stored."""
    data = request.POST or None
    meeting = FirstMeeting.objects.filter(athlete=athlete).first() or FirstMeeting(athlete=athlete)
    stored = {row.style: row for row in athlete.style_records.all()}
    decides = may(request.user, athlete, "decide")
    private = may(request.user, athlete, "health")
    injury = HealthNoteForm(data, optional=True, prefix="injury", instance=HealthNote(athlete=athlete))
    return {
        "form": FirstMeetingForm(athlete, decides, private, data, instance=meeting),
        "styles": [StyleForm(athlete, style, stored.get(style), data) for style in Style.values],
        "injury": injury if private else None,
    }


def save(request: SignedInRequest, athlete: Athlete, forms: dict[str, Any]) -> bool:
    """Write all of it when all of it is understood; nothing otherwise."""
    form, styles, injury = forms["form"], forms["styles"], forms["injury"]
    asked = [form, *styles] + ([injury] if injury else [])
    wrong = [f for f in asked if not f.is_valid()]  # each is asked, so that each shows its messages
    if wrong:
        return False
    note = injury.save(commit=False) if injury and not injury.is_blank() else None
    save_first_meeting(
        request.user,
        form.save(commit=False),
        [f.save(commit=False) for f in styles],
        form.cleaned_data.get("standing", ""),
        note,
    )
    return True
