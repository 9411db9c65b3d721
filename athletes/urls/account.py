"""Addresses of account."""

from django.urls import URLPattern, path

from ..views import sign_in

urlpatterns: list[URLPattern] = [
    path("", sign_in.home, name="home"),
    path("sign-in/", sign_in.SignIn.as_view(), name="sign-in"),
    path("sign-out/", sign_in.SignOut.as_view(), name="sign-out"),
]
