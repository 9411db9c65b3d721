"""Addresses of who and what was logged, one module per part."""

from django.urls import include, path

urlpatterns = [
    path("", include(f"athletes.urls.{part}"))
    for part in ("account", "club", "people", "lifts", "floor", "transfer", "privacy")
]
