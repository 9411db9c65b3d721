"""Addresses of privacy."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
