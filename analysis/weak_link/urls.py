"""Addresses of the weak link, of the search for misses and of the rows behind a number."""

from django.urls import path

from analysis.weak_link.misses_views import misses
from analysis.weak_link.views import rows, weak_link

urlpatterns = [
    path("athletes/<int:pk>/weak-link/", weak_link, name="weak-link"),
    path("athletes/<int:pk>/rows/", rows, name="rows"),
    path("squad/misses/", misses, name="misses"),
]
