"""Addresses of the weak link and the comparison of styles."""

from django.urls import path

from analysis.views.styles import styles
from analysis.views.weak_link import weak_link

urlpatterns = [
    path("athletes/<int:pk>/weak-link/", weak_link, name="weak-link"),
    path("athletes/<int:pk>/styles/", styles, name="styles"),
]
