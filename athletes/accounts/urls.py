"""Addresses of the way in and of a person's own account."""

from django.urls import path

from athletes.accounts import email_views as email_change
from athletes.accounts import second_factor_views as second_factor
from athletes.accounts import sign_in
from athletes.accounts import views as account
from athletes.accounts import views as sessions

urlpatterns = [
    path("", account.home, name="home"),
    path("sign-in/", sign_in.SignIn.as_view(), name="sign-in"),
    path("sign-in/code/", sign_in.second_step, name="second-step"),
    path("sign-out/", account.sign_out, name="sign-out"),
    path("password-reset/", sign_in.LostPassword.as_view(), name="password-reset"),
    path("password-reset/<uidb64>/<token>/", sign_in.NewPassword.as_view(), name="password-reset-confirm"),
    path("account/", account.account, name="account"),
    path("account/password/", account.change_password, name="change-password"),
    path("account/email/", email_change.email_change, name="email-change"),
    path("account/email/keep/", email_change.email_call_off, name="email-call-off"),
    path("new-address/<str:token>/", email_change.email_take, name="email-take"),
    path("old-address/<str:token>/", email_change.email_undo, name="email-undo"),
    path("account/second-step/", second_factor.second_factor, name="second-factor"),
    path("account/second-step/begin/", second_factor.begin, name="second-factor-begin"),
    path("account/second-step/confirm/", second_factor.confirm, name="second-factor-confirm"),
    path("account/second-step/codes/", second_factor.renew_codes, name="recovery-codes"),
    path("account/second-step/remove/", second_factor.remove, name="second-factor-remove"),
    path("account/sessions/end/", sessions.sign_out_everywhere, name="sign-out-everywhere"),
    path("account/sessions/<uuid:uid>/end/", sessions.end_one, name="session-end"),
]
