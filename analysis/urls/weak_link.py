"""Addresses of weak_link."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
