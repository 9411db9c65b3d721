"""Addresses of the squad review, the club's settings, the athlete's own page and the printed report."""

from django.urls import path

from analysis.squad.summary_views import report, summary
from analysis.squad.views import club_settings, squad

urlpatterns = [
    path("squad/", squad, name="squad"),
    path("club/settings/", club_settings, name="club-settings"),
    path("athletes/<int:pk>/settings/", club_settings, name="athlete-settings"),
    path("athletes/<int:pk>/", summary, name="summary"),
    path("athletes/<int:pk>/report/", report, name="report"),
]
