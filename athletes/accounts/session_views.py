"""Ending signed-in browsers: one, or every other one."""

from uuid import UUID

from django.contrib import messages
from django.contrib.auth import logout
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from athletes.access.permissions import SignedInRequest
from athletes.accounts.sessions import end_session, end_sessions
from athletes.models import SignInSession


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
    return redirect("sign-in")
