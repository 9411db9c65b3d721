"""A guardian's consent, given and withdrawn, and whether the athlete sees their own body mass."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from athletes.access.audit import fields_of, record
from athletes.access.permissions import SignedInRequest, athlete_for, may
from athletes.access.visibility import consent_for, is_minor, pictures_allowed
from athletes.models import Athlete, GuardianConsent
from athletes.pictures.services import give_consent, withdraw_consent
from athletes.privacy.forms import ConsentForm, HideMassForm, WithdrawForm


def page(request: SignedInRequest, athlete: Athlete, **extra: object) -> HttpResponse:
    context = {
        "athlete": athlete,
        "minor": is_minor(athlete),
        "consent": consent_for(athlete),
        "pictures_allowed": pictures_allowed(athlete),
        "picture_count": athlete.pictures.count(),
        "history": athlete.consents.order_by("-given_on", "-pk"),
        "decides": may(request.user, athlete, "decide"),
        "form": ConsentForm(),
        "withdraw_form": WithdrawForm(),
        "mass_form": HideMassForm(instance=athlete),
    }
    return render(request, "consent.html", context | extra)


@login_required
@require_http_methods(["GET", "POST"])
def consent(request: SignedInRequest, pk: int) -> HttpResponse:
    """Coach and athlete read it; the coach records the guardian's signed paper."""
    if request.method == "GET":
        return page(request, athlete_for(request, pk, write="privacy"))
    athlete = athlete_for(request, pk, write="decide")
    form = ConsentForm(request.POST)
    if not form.is_valid():
        return page(request, athlete, form=form)
    give_consent(athlete, by=request.user, **form.cleaned_data)
    messages.success(request, "The consent is noted.")
    return redirect("consent", pk)


@login_required
@require_POST
def consent_withdraw(request: SignedInRequest, pk: int, consent: int) -> HttpResponse:
    athlete = athlete_for(request, pk, write="decide")
    row = get_object_or_404(GuardianConsent, pk=consent, athlete=athlete, withdrawn_on__isnull=True)
    form = WithdrawForm(request.POST)
    if not form.is_valid():
        return page(request, athlete, withdraw_form=form)
    withdraw_consent(row, form.cleaned_data["pictures"] == "delete", request.user)
    messages.success(request, "The consent is withdrawn from today.")
    return redirect("consent", pk)


@login_required
@require_POST
def hide_mass(request: SignedInRequest, pk: int) -> HttpResponse:
    athlete = athlete_for(request, pk, write="privacy")
    before = fields_of(athlete)
    form = HideMassForm(request.POST, instance=athlete)
    if form.is_valid():
        form.save()
        record(request.user, "corrected", athlete, before, fields_of(athlete))
        messages.success(request, "Saved.")
    return redirect("consent", pk)
