"""The way in and a person's own account: name, units, password."""

from uuid import UUID

from django.contrib import messages
from django.contrib.auth import logout, update_session_auth_hash
from django.contrib.auth.decorators import login_not_required, login_required
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from athletes.access.permissions import DECIDERS, WORKERS, SignedInRequest, clubs_where
from athletes.accounts.email_change import call_off
from athletes.accounts.forms import NewPasswordForm, PersonForm
from athletes.accounts.second_factor import has_second_factor
from athletes.accounts.sessions import end_session, end_sessions, keep_session
from athletes.models import Athlete, SignInSession


@login_not_required
@require_GET
def home(request: SignedInRequest) -> HttpResponse:
    """Workers go to their squad, the first owner of an empty club to its first steps, athletes to their own page."""
    if not request.user.is_authenticated:
        return redirect("sign-in")
    if works := clubs_where(request.user, WORKERS):
        begins = len(works) == 1 and works == clubs_where(request.user, DECIDERS)
        return redirect("start" if begins and not Athlete.objects.filter(club__in=works).exists() else "/squad/")
    athlete = getattr(request.user, "athlete", None)
    return redirect(f"/athletes/{athlete.pk}/") if athlete else redirect("account")


@login_not_required
@require_POST
def sign_out(request: SignedInRequest) -> HttpResponse:
    if request.user.is_authenticated:
        SignInSession.objects.filter(session_key=request.session.session_key).delete()
    logout(request)
    return _left_clean(redirect("sign-in"))


@login_required
@require_http_methods(["GET", "POST"])
def account(request: SignedInRequest) -> HttpResponse:
    form = PersonForm(request.POST or None, instance=request.user)
    if request.method == "POST" and form.is_valid():
        form.save()
        messages.success(request, "Saved.")
        return redirect("account")
    if form.errors:
        request.user.refresh_from_db(fields=PersonForm.Meta.fields)
    context = {
        "here": "account",
        "form": form,
        "second_factor": has_second_factor(request.user),
        "sessions": request.user.sign_ins.order_by("-last_seen"),
        "this_session": request.session.session_key,
        "memberships": request.user.memberships.select_related("club").order_by("club__name"),
        "athlete": getattr(request.user, "athlete", None),
    }
    return render(request, "account.html", context)


@login_required
@require_http_methods(["GET", "POST"])
def change_password(request: SignedInRequest) -> HttpResponse:
    """A new password ends every other session; this browser stays signed in."""
    form = NewPasswordForm(request.user, request.POST or None)
    if request.method == "POST" and form.is_valid():
        form.save()
        call_off(request.user)
        old_key = request.session.session_key
        update_session_auth_hash(request, request.user)
        keep_session(request, old_key)
        end_sessions(request.user, keep=request.session.session_key)
        messages.success(request, "Your password is changed. Every other browser is signed out.")
        return redirect("account")
    return render(request, "change_password.html", {"here": "account", "form": form})


@login_required
@require_POST
def end_one(request: SignedInRequest, uid: UUID) -> HttpResponse:
    row = get_object_or_404(SignInSession, uid=uid, user=request.user)
    here = row.session_key == request.session.session_key
    end_session(row)
    if here:
        logout(request)
        return redirect("sign-in")
    messages.success(request, f"Signed out: {row.agent}.")
    return redirect("account")


@login_required
@require_POST
def sign_out_everywhere(request: SignedInRequest) -> HttpResponse:
    """Ends this session too: whoever presses it may not trust the browser they hold."""
    end_sessions(request.user)
    logout(request)
    messages.success(request, "You are signed out of every browser.")
    return _left_clean(redirect("sign-in"))


def _left_clean(answer: HttpResponse) -> HttpResponse:
    """Ask the browser to drop its cache. Nothing else is cleared: unsent entries must outlive a sign-out."""
    answer["Clear-Site-Data"] = '"cache"'
    return answer
