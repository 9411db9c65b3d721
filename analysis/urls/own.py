"""Addresses of the athlete's own page and the printed report."""

from django.urls import path

from analysis.views.rows import rows
from analysis.views.summary import report, summary

urlpatterns = [
    path("athletes/<int:pk>/", summary, name="summary"),
    path("athletes/<int:pk>/rows/", rows, name="rows"),
    path("athletes/<int:pk>/report/", report, name="report"),
]
