"""Password, then a code when the person has set one up; and the way back when the password is lost."""

import time
from typing import Any

from axes.utils import reset as forget_misses
from django.contrib import messages
from django.contrib.auth import login
from django.contrib.auth.decorators import login_not_required
from django.contrib.auth.forms import AuthenticationForm, PasswordResetForm, SetPasswordForm
from django.contrib.auth.views import LoginView, PasswordResetConfirmView, PasswordResetView
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.urls import reverse_lazy
from django.utils.crypto import constant_time_compare
from django.utils.decorators import method_decorator
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods
from django_otp import login as otp_login

from athletes.access.client_address import client_address
from athletes.accounts.email_change import call_off
from athletes.accounts.forms import CodeForm, ResetForm, SignInForm
from athletes.accounts.saved_form import SavedForm, load_saved_form, revalidate
from athletes.accounts.second_factor import has_second_factor, matching_device
from athletes.accounts.sessions import begin_session, end_sessions
from athletes.accounts.throttle import forget, hit_rate_limit, rate_limited
from athletes.models import User

WAITING = "second_step"
WAITING_SECONDS = 600
BACKEND = "django.contrib.auth.backends.ModelBackend"
MISSES_FROM_ONE_PLACE = 60  # in 15 minutes, over all accounts; a full gym behind one address has far fewer
# In 15 minutes, over all network addresses. One address gets five misses before its own lockout (AXES_FAILURE_LIMIT);
# what that lockout refuses is not counted, so closing somebody else's account takes six addresses, not one.
MISSES_FOR_ONE_ACCOUNT = 30
MISSES_LAST = 900  # seconds
RESETS_FROM_ONE_PLACE = 30  # in an hour


@method_decorator(login_not_required, name="dispatch")
class SignIn(LoginView):
    template_name = "sign_in.html"
    authentication_form = SignInForm
    redirect_authenticated_user = True

    def dispatch(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        held = held_by(request)
        if held and request.user.is_authenticated:
            return revalidate(request, held)
        return super().dispatch(request, *args, **kwargs)

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if rate_limited("sign-in misses from", client_address(request), MISSES_FROM_ONE_PLACE):
            return locked_out(request)
        if rate_limited("sign-in misses for", account_named(request), MISSES_FOR_ONE_ACCOUNT):
            return locked_out(request)
        return super().post(request, *args, **kwargs)

    def form_invalid(self, form: AuthenticationForm) -> HttpResponse:
        hit_rate_limit("sign-in misses from", client_address(self.request), MISSES_FROM_ONE_PLACE, MISSES_LAST)
        if not getattr(self.request, "axes_locked_out", False):
            hit_rate_limit("sign-in misses for", account_named(self.request), MISSES_FOR_ONE_ACCOUNT, MISSES_LAST)
        return super().form_invalid(form)

    def form_valid(self, form: AuthenticationForm) -> HttpResponse:
        user, held = form.get_user(), held_by(self.request)
        if has_second_factor(user):
            self.request.session[WAITING] = {
                "user": user.pk,
                "proof": user.get_session_auth_hash(),
                "at": time.time(),
                "next": self.get_redirect_url(),
            }
            return code_page(self.request, CodeForm(), held) if held else redirect("second-step")
        response = super().form_valid(form)
        begin_session(self.request, user)
        return revalidate(self.request, held) if held else response

    def get_redirect_url(self, request: HttpRequest | None = None) -> str:
        """Where the person wanted to go: an address below this site's root that is not the sign-in again."""
        wanted = super().get_redirect_url()
        return wanted if wanted.startswith("/") and wanted.partition("?")[0] != self.request.path else ""

    def get_context_data(self, **kwargs: Any) -> dict[str, object]:
        return super().get_context_data(**kwargs) | {"held": held_by(self.request)}


def account_named(request: HttpRequest) -> str:
    """The e-mail that a sign-in names, spelt as `SignInForm` compares it; known and unknown ones alike."""
    return request.POST.get("username", "").strip().lower()


def held_by(request: HttpRequest) -> SavedForm | None:
    return load_saved_form(request.POST.get("held", "")) if request.method == "POST" else None


def code_page(request: HttpRequest, form: CodeForm, held: SavedForm | None) -> HttpResponse:
    return render(request, "second_step.html", {"form": form, "held": held})


def locked_out(request: HttpRequest, *axes: object) -> HttpResponse:
    """Also what django-axes answers with once one account was tried too often from one place."""
    return render(request, "locked_out.html", {"held": held_by(request)}, status=429)


def waiting_user(request: HttpRequest) -> User | None:
    """Who gave a right password in this browser in the last ten minutes and still owes a code."""
    waiting = request.session.get(WAITING)
    if not waiting or time.time() - waiting["at"] > WAITING_SECONDS:
        return None
    user = User.objects.filter(pk=waiting["user"], is_active=True).first()
    if user and constant_time_compare(user.get_session_auth_hash(), waiting["proof"]):
        return user
    return None


@login_not_required
@never_cache
@sensitive_post_parameters("code")
@require_http_methods(["GET", "POST"])
def second_step(request: HttpRequest) -> HttpResponse:
    user = waiting_user(request)
    if user is None:
        request.session.pop(WAITING, None)
        messages.info(request, "Please sign in again: the ten minutes for the code are over.")
        return redirect("sign-in")
    held = held_by(request)
    form = CodeForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        device = matching_device(user, form.cleaned_data["code"])
        if device is not None:
            target = request.session.pop(WAITING)["next"]
            login(request, user, backend=BACKEND)
            otp_login(request, device)
            begin_session(request, user)
            return revalidate(request, held) if held else redirect(target or "home")
        form.add_error(
            "code",
            "This code did not open the account. Take the one that shows now; after several tries wait a minute.",
        )
    return code_page(request, form, held)


class LostPassword(PasswordResetView):
    """Says the same for every address."""

    template_name = "lost_password.html"
    form_class = ResetForm
    subject_template_name = "mail/reset_subject.txt"
    email_template_name = "mail/reset_body.txt"
    success_url = reverse_lazy("sign-in")

    def form_valid(self, form: PasswordResetForm) -> HttpResponse:
        if hit_rate_limit("reset from", client_address(self.request), RESETS_FROM_ONE_PLACE, 3600):
            form.add_error(None, "Too many links were asked for from here. Wait an hour, then ask again.")
            return self.form_invalid(form)
        messages.success(
            self.request,
            "If an account has this address, a link is on its way to it. It opens once, within three hours.",
        )
        return super().form_valid(form)


class NewPassword(PasswordResetConfirmView):
    """The page behind the mailed link; a new password ends every session and forgets the missed tries."""

    template_name = "new_password.html"
    success_url = reverse_lazy("sign-in")

    def form_valid(self, form: "SetPasswordForm[User]") -> HttpResponse:
        response = super().form_valid(form)
        end_sessions(form.user)
        call_off(form.user)
        forget_misses(username=form.user.email)
        forget("sign-in misses for", form.user.email.lower())
        messages.success(self.request, "Your new password is set. Sign in with it.")
        return response
