"""Addresses of what follows from the log, one module per room."""

from django.urls import include, path

urlpatterns = [
    path("", include(f"analysis.{module}"))
    for module in (
        "leverages.urls",
        "how_it_works.urls",
        "weak_link.urls",
        "squad.urls",
        "trials.urls",
        "progress.urls",
        "meets.urls",
        "squad.own_urls",
    )
]
