"""A guardian's page behind a link, and the page of a minor who waits for one."""

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_not_required, login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from athletes.access.permissions import SignedInRequest, athlete_for
from athletes.access.visibility import consent_for, is_minor, waits_for_guardian
from athletes.accounts.mail import own_address
from athletes.accounts.second_factor import qr_svg
from athletes.guardians.services import VALID_DAYS, athlete_behind, make_link
from athletes.log.words import set_line
from athletes.models import Athlete
from athletes.pictures.services import give_consent, withdraw_consent
from athletes.privacy.forms import WithdrawForm

LAST_SETS = 20


class AgreeForm(forms.Form):
    """A guardian's signature: a name, and what it covers."""

    guardian = forms.CharField(label="Your name", max_length=80)
    agreed = forms.BooleanField(
        label="I am a guardian of this athlete and agree that the club keeps and shows what is listed above",
        error_messages={"required": "Without your agreement nothing is kept beyond what the coach writes down."},
    )
    covers_pictures = forms.BooleanField(label="Pictures of lifts too", required=False)

    def clean_guardian(self) -> str:
        name = " ".join(self.cleaned_data["guardian"].split())
        if not any(c.isalpha() for c in name):
            raise forms.ValidationError("Write your name.")
        return name


@login_required
@never_cache
@require_POST
def new_link(request: SignedInRequest, pk: int) -> HttpResponse:
    """Make the link and show it this one time, as text and as a code to scan."""
    athlete = athlete_for(request, pk, write="decide")
    if not is_minor(athlete):
        messages.error(request, f"{athlete.name} is of age and decides alone.")
        return redirect("consent", pk)
    link = own_address(request) + reverse("guardian", args=[make_link(athlete, request.user)])
    context = {"athlete": athlete, "tab": "profile", "link": link, "link_code": qr_svg(link), "days": VALID_DAYS}
    return render(request, "guardian_link.html", context)


@login_required
@require_safe
def needed(request: SignedInRequest) -> HttpResponse:
    """What a minor sees until a guardian has agreed."""
    athlete = getattr(request.user, "athlete", None)
    if athlete is None or not waits_for_guardian(athlete):
        return redirect("home")
    return render(request, "guardian_needed.html", {"athlete_name": athlete.name, "coach": athlete.coach})


@login_not_required
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def guardian(request: HttpRequest, token: str) -> HttpResponse:
    """What is kept, what was lifted, and the guardian's signature; links that open nothing look the same."""
    athlete = athlete_behind(token)
    if athlete is None:
        return render(request, "guardian_gone.html", status=404)
    form = AgreeForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        give_consent(
            athlete, form.cleaned_data["guardian"], timezone.localdate(), form.cleaned_data["covers_pictures"], by=None
        )
        messages.success(request, "Thank you. Your consent is noted and can be withdrawn here.")
        return redirect("guardian", token)
    return _page(request, athlete, token, form=form)


@login_not_required
@never_cache
@require_POST
def withdraw(request: HttpRequest, token: str) -> HttpResponse:
    """The guardian takes the consent back, and says what becomes of the pictures."""
    athlete = athlete_behind(token)
    if athlete is None:
        return render(request, "guardian_gone.html", status=404)
    form = WithdrawForm(request.POST)
    consent = consent_for(athlete)
    if consent is None or not form.is_valid():
        return _page(request, athlete, token, withdraw_form=form)
    withdraw_consent(consent, form.cleaned_data["pictures"] == "delete", None)
    messages.success(request, "Your consent is withdrawn from today.")
    return redirect("guardian", token)


def _page(request: HttpRequest, athlete: Athlete, token: str, **extra: object) -> HttpResponse:
    """The page of one minor for their guardian: nothing of other people, no body mass, no notes of pain."""
    sets = athlete.sets.select_related("bar").order_by("-day", "-order", "-pk")[:LAST_SETS]
    context = {
        "minor": athlete,
        "token": token,
        "consent": consent_for(athlete),
        "form": AgreeForm(),
        "withdraw_form": WithdrawForm(),
        "plan": athlete.plan_items.filter(day__gte=timezone.localdate()).order_by("day", "order")[:LAST_SETS],
        "lines": [set_line(row, False) for row in sets],
        "pictures": athlete.pictures.count(),
    }
    return render(request, "guardian.html", context | extra)
