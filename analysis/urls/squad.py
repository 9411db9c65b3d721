"""Addresses of squad."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
