"""Addresses of what follows from the log, one module per part."""

from django.urls import include, path

urlpatterns = [
    path("", include(f"analysis.urls.{part}"))
    for part in ("leverages", "model", "weak_link", "squad", "trials", "progress", "meets", "own")
]
