"""Addresses of who and what was logged, one module per room."""

from django.urls import include, path

urlpatterns = [
    path("", include(f"athletes.{module}"))
    for module in (
        "accounts.urls",
        "people.club_urls",
        "people.urls",
        "log.urls",
        "floor.urls",
        "exporting.urls",
        "privacy.urls",
    )
]
