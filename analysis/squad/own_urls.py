"""Addresses of the athlete's own page and the printed report."""

from django.urls import path

from analysis.squad.summary_views import report, summary
from analysis.weak_link.rows_views import rows

urlpatterns = [
    path("athletes/<int:pk>/", summary, name="summary"),
    path("athletes/<int:pk>/rows/", rows, name="rows"),
    path("athletes/<int:pk>/report/", report, name="report"),
]
