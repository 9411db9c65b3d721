"""Addresses of a club's first days."""

from django.urls import path

from athletes.start import views

urlpatterns = [
    path("start/", views.start, name="start"),
    path("people/roster/", views.roster, name="roster"),
]
