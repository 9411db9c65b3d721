"""Address of the decision."""

from django.urls import path

from analysis.decision.views import decision

urlpatterns = [path("athletes/<int:pk>/decision/", decision, name="decision")]
