"""Addresses of the decision and of the same on paper."""

from django.urls import path

from analysis.decision.views import decision, report

urlpatterns = [
    path("athletes/<int:pk>/decision/", decision, name="decision"),
    path("athletes/<int:pk>/report/", report, name="report"),
]
