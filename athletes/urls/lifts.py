"""Addresses of lifts."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
