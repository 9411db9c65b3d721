"""Erasing an athlete on request; closing one's own account."""

from django.contrib import messages
from django.contrib.auth import logout
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from athletes.access.permissions import SignedInRequest, athlete_for
from athletes.accounts.forms import PasswordAgainForm
from athletes.models import User
from athletes.people.club_views import LAST_OWNER
from athletes.people.of_club import LastOwner
from athletes.privacy.erasure import erase_account, erase_athlete
from athletes.privacy.forms import EraseForm


@login_required
@require_http_methods(["GET", "POST"])
def erase(request: SignedInRequest, pk: int) -> HttpResponse:
    """The athlete themselves, with their password, or the coach on their request; a guardian asks the coach."""
    athlete = athlete_for(request, pk, write="privacy")
    form = EraseForm(athlete, request.POST or None)
    password = PasswordAgainForm(request.user, request.POST or None)
    if request.method == "POST" and form.is_valid() & password.is_valid():
        name = athlete.name
        erase_athlete(athlete)
        if not User.objects.filter(pk=request.user.pk).exists():
            logout(request)
            messages.success(request, "Everything is erased, your account with it.")
            return redirect("sign-in")
        messages.success(request, f"{name} is erased, with every copy this club held.")
        return redirect("home")
    return render(request, "erase.html", {"athlete": athlete, "form": form, "password_form": password})


@login_required
@require_http_methods(["GET", "POST"])
def account_close(request: SignedInRequest) -> HttpResponse:
    form = PasswordAgainForm(request.user, request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            erase_account(request.user)
        except LastOwner:
            form.add_error(None, LAST_OWNER)
        else:
            logout(request)
            messages.success(request, "Your account is closed and erased.")
            return redirect("sign-in")
    context = {"here": "account", "form": form, "athlete": getattr(request.user, "athlete", None)}
    return render(request, "account_close.html", context)
