"""Addresses of the squad review and the club's settings."""

from django.urls import path

from analysis.squad.views import club_settings, squad_table
from analysis.squad.wall_views import squad, wall_aside, wall_back

urlpatterns = [
    path("squad/", squad, name="squad"),
    path("squad/table/", squad_table, name="squad-table"),
    path("squad/<int:pk>/aside/", wall_aside, name="wall-aside"),
    path("squad/<int:pk>/back/", wall_back, name="wall-back"),
    path("club/settings/", club_settings, name="club-settings"),
    path("athletes/<int:pk>/settings/", club_settings, name="athlete-settings"),
]
