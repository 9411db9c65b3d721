"""Addresses of what follows from the log, one module per room."""

from django.urls import include, path

ROOMS = (
    "today",
    "decision",
    "leverages",
    "how_it_works",
    "weak_link",
    "styles",
    "squad",
    "trials",
    "progress",
    "meets",
)

urlpatterns = [path("", include(f"analysis.{room}.urls")) for room in ROOMS]
