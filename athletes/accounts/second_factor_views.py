"""Setting up, renewing and removing the second step."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_GET, require_POST

from athletes.access.permissions import SignedInRequest
from athletes.accounts import second_factor as steps
from athletes.accounts.forms import CodeForm, PasswordAgainForm
from athletes.accounts.sessions import end_sessions


def page(request: SignedInRequest, status: int = 200, **extra: object) -> HttpResponse:
    device = steps.waiting_device(request.user)
    context = {
        "here": "account",
        "active": steps.has_second_factor(request.user),
        "waiting": device,
        "password_form": PasswordAgainForm(request.user),
        "code_form": CodeForm(),
    } | extra
    if device is not None:
        # the SVG is drawn by the library from our own secret; nothing typed is in it
        context |= {"qr": steps.qr_svg(device.config_url), "secret": steps.secret_words(device)}
    return render(request, "second_factor.html", context, status=status)


@login_required
@never_cache
@require_GET
def second_factor(request: SignedInRequest) -> HttpResponse:
    return page(request)


@login_required
@require_POST
def begin(request: SignedInRequest) -> HttpResponse:
    form = PasswordAgainForm(request.user, request.POST)
    if not form.is_valid():
        return page(request, password_form=form)
    steps.begin_device(request.user)
    return redirect("second-factor")


@login_required
@never_cache
@require_POST
def confirm(request: SignedInRequest) -> HttpResponse:
    """A first code proves that the phone has the secret; other browsers must then pass the second step too."""
    form = CodeForm(request.POST)
    device = steps.waiting_device(request.user)
    if device is None:
        return redirect("second-factor")
    if form.is_valid():
        codes = steps.confirm_device(device, form.cleaned_data["code"])
        if codes is not None:
            end_sessions(request.user, keep=request.session.session_key)
            return page(request, codes=codes)
        form.add_error("code", "This code does not fit. Type the six digits that show now; is the phone's clock right?")
    return page(request, code_form=form)


@login_required
@never_cache
@require_POST
def renew_codes(request: SignedInRequest) -> HttpResponse:
    form = PasswordAgainForm(request.user, request.POST)
    if not steps.has_second_factor(request.user):
        return redirect("second-factor")
    if not form.is_valid():
        return page(request, password_form=form)
    return page(request, codes=steps.new_recovery_codes(request.user))


@login_required
@require_POST
def remove(request: SignedInRequest) -> HttpResponse:
    form = PasswordAgainForm(request.user, request.POST)
    if not form.is_valid():
        return page(request, password_form=form)
    steps.remove_second_factor(request.user)
    messages.success(request, "The second step is off. Your password alone opens the account again.")
    return redirect("second-factor")
