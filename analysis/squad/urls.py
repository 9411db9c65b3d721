"""Addresses of the squad review, the search for misses and the club's numbers."""

from django.urls import path

from analysis.squad.settings_views import club_settings
from analysis.squad.views import squad
from analysis.weak_link.misses_views import misses

urlpatterns = [
    path("squad/", squad, name="squad"),
    path("squad/misses/", misses, name="misses"),
    path("club/settings/", club_settings, name="club-settings"),
    path("athletes/<int:pk>/settings/", club_settings, name="athlete-settings"),
]
