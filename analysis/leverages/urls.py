"""Addresses of the leverage pages."""

from django.urls import path

from analysis.leverages.compare_views import compare
from analysis.leverages.views import curves, leverages, leverages_frames, sweep, what_if

urlpatterns = [
    path("athletes/<int:pk>/leverages/", leverages, name="leverages"),
    path("athletes/<int:pk>/leverages/frames/", leverages_frames, name="leverages-frames"),
    path("athletes/<int:pk>/leverages/what-if/", what_if, name="leverages-what-if"),
    path("athletes/<int:pk>/leverages/curves/", curves, name="leverages-curves"),
    path("athletes/<int:pk>/leverages/stances/", sweep, name="leverages-sweep"),
    path("athletes/<int:pk>/leverages/beside/", compare, name="leverages-compare"),
]
