"""Changing the address one signs in with, and the pages behind the two mailed links."""

from django.conf import settings
from django.contrib import messages
from django.contrib.auth import logout
from django.contrib.auth.decorators import login_not_required, login_required
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST

from athletes.access.permissions import SignedInRequest
from athletes.accounts import email_change as change
from athletes.accounts.forms import EmailChangeForm
from athletes.accounts.mail import own_address

SENT = (
    "If this address can be used, a link is on its way to it. It opens once, within 24 hours; "
    "at most five mails an hour go to one address."
)
UNDONE = "The address is as it was, and every browser is signed out. Choose a new password now: the link goes to it."


@login_required
@never_cache
@sensitive_post_parameters("password")
@require_http_methods(["GET", "POST"])
def email_change(request: SignedInRequest) -> HttpResponse:
    """Asks for the password, and says the same whether or not the new address is in use."""
    form = EmailChangeForm(request.user, request.POST or None)
    if request.method == "POST" and form.is_valid():
        change.ask_for(request.user, form.cleaned_data["email"], own_address(request))
        messages.success(request, SENT)
        return redirect("email-change")
    context = {
        "here": "account",
        "form": form,
        "waiting": change.waiting_for(request.user).first(),
        "history": request.user.email_changes.all(),
        "hours": int(change.TAKE_FOR.total_seconds() // 3600),
        "days": change.UNDO_FOR.days,
        "kept": settings.RETENTION_DAYS["address changes"],
    }
    return render(request, "email_change.html", context)


@login_required
@require_POST
def email_call_off(request: SignedInRequest) -> HttpResponse:
    gone = change.call_off(request.user)
    messages.success(request, "Your address stays; the link opens nothing any more." if gone else "No change waits.")
    return redirect("email-change")


@login_not_required
@never_cache
@require_http_methods(["GET", "POST"])
def email_take(request: SignedInRequest, token: str) -> HttpResponse:
    """Behind the link to the new address, on any browser; opening it changes nothing yet, since mail scanners do."""
    try:
        row = change.change_behind(token, change.TAKE)
        if request.method == "POST":
            change.take(row, own_address(request))
    except change.LinkExpired:
        return render(request, "email_gone.html", status=404)
    if request.method == "GET":
        return render(request, "email_take.html", {"row": row, "days": change.UNDO_FOR.days})
    messages.success(request, f"The account opens with {row.new_email} from now on.")
    return redirect("account" if request.user.is_authenticated else "sign-in")


@login_not_required
@never_cache
@require_http_methods(["GET", "POST"])
def email_undo(request: SignedInRequest, token: str) -> HttpResponse:
    """Behind the link to the old address: stops a change, or takes it back."""
    try:
        row = change.change_behind(token, change.UNDO)
        if request.method == "POST":
            change.undo(row)
    except change.LinkExpired:
        return render(request, "email_gone.html", status=404)
    if request.method == "GET":
        return render(request, "email_undo.html", {"row": row})
    if request.user == row.user:
        logout(request)
    messages.success(request, UNDONE)
    return redirect("password-reset")
