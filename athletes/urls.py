"""Addresses of who and what was logged, one module per room."""

from django.urls import include, path

MODULES = (
    "operations.urls",
    "accounts.urls",
    "start.urls",
    "guardians.urls",
    "people.club_urls",
    "people.urls",
    "log.urls",
    "day.urls",
    "floor.urls",
    "importing.urls",
    "exporting.urls",
    "privacy.urls",
    "pictures.urls",
)

urlpatterns = [path("", include(f"athletes.{module}")) for module in MODULES]
