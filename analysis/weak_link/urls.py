"""Addresses of the weak link and the comparison of styles."""

from django.urls import path

from analysis.styles.views import styles
from analysis.weak_link.views import weak_link

urlpatterns = [
    path("athletes/<int:pk>/weak-link/", weak_link, name="weak-link"),
    path("athletes/<int:pk>/styles/", styles, name="styles"),
]
