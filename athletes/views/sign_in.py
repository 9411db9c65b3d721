"""The front door: home sends people where they belong; sign in; sign out."""

from django.contrib.auth import views as auth_views
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_safe

from ..forms.account import SignInForm
from ..permissions import WORKERS, clubs_where


@require_safe
def home(request: HttpRequest) -> HttpResponse:
    if not request.user.is_authenticated:
        return redirect("sign-in")
    if clubs_where(request.user, WORKERS):
        return redirect("/squad/")
    athlete = getattr(request.user, "athlete", None)
    return redirect(f"/athletes/{athlete.pk}/" if athlete else "/account/")


class SignIn(auth_views.LoginView):
    template_name = "athletes/sign_in.html"
    authentication_form = SignInForm
    redirect_authenticated_user = True


class SignOut(auth_views.LogoutView):
    """Signs out on POST only."""
