"""Password, then a code when the person has set one up; and the way back when the password is lost."""

import time

from axes.utils import reset as forget_misses
from django.contrib import messages
from django.contrib.auth import login
from django.contrib.auth.decorators import login_not_required
from django.contrib.auth.views import LoginView, PasswordResetConfirmView, PasswordResetView
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse_lazy
from django.utils.crypto import constant_time_compare
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods
from django_otp import login as otp_login

from ..forms.account import CodeForm, ResetForm, SignInForm
from ..models import User
from ..services.second_factor import has_second_factor, matching_device
from ..services.sessions import begin_session, end_sessions

WAITING = "second_step"
WAITING_SECONDS = 600
BACKEND = "django.contrib.auth.backends.ModelBackend"


class SignIn(LoginView):
    template_name = "athletes/sign_in.html"
    authentication_form = SignInForm
    redirect_authenticated_user = True

    def form_valid(self, form: SignInForm) -> HttpResponse:
        user = form.get_user()
        if has_second_factor(user):
            self.request.session[WAITING] = {
                "user": user.pk,
                "proof": user.get_session_auth_hash(),
                "at": time.time(),
                "next": self.get_redirect_url(),
            }
            return redirect("second-step")
        response = super().form_valid(form)
        begin_session(self.request)
        return response


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
    form = CodeForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        device = matching_device(user, form.cleaned_data["code"])
        if device is not None:
            target = request.session.pop(WAITING)["next"]
            login(request, user, backend=BACKEND)
            otp_login(request, device)
            begin_session(request)
            return redirect(target or "home")
        form.add_error(
            "code",
            "This code did not open the account. Take the one that shows now; after several tries wait a minute.",
        )
    return render(request, "athletes/second_step.html", {"form": form})


class LostPassword(PasswordResetView):
    """Says the same for every address."""

    template_name = "athletes/lost_password.html"
    form_class = ResetForm
    subject_template_name = "athletes/mail/reset_subject.txt"
    email_template_name = "athletes/mail/reset_body.txt"
    success_url = reverse_lazy("sign-in")

    def form_valid(self, form: ResetForm) -> HttpResponse:
        messages.success(
            self.request,
            "If an account has this address, a link is on its way to it. It opens once, within three hours.",
        )
        return super().form_valid(form)


class NewPassword(PasswordResetConfirmView):
    """The page behind the mailed link; a new password ends every session and forgets the missed tries."""

    template_name = "athletes/new_password.html"
    success_url = reverse_lazy("sign-in")

    def form_valid(self, form: object) -> HttpResponse:
        response = super().form_valid(form)
        end_sessions(self.user)
        forget_misses(username=self.user.email)
        messages.success(self.request, "Your new password is set. Sign in with it.")
        return response
