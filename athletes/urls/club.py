"""Addresses of club."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
