"""Addresses of the squad review, the search for misses and the club's numbers."""

from django.urls import path

from analysis.views.club_settings import club_settings
from analysis.views.misses import misses
from analysis.views.squad import squad

urlpatterns = [
    path("squad/", squad, name="squad"),
    path("squad/misses/", misses, name="misses"),
    path("club/settings/", club_settings, name="club-settings"),
    path("athletes/<int:pk>/settings/", club_settings, name="athlete-settings"),
]
