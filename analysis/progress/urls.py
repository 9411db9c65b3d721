"""Addresses of the dashboards and of their figures' numbers."""

from django.urls import path

from analysis.progress.back_load_views import back_load, back_load_numbers
from analysis.progress.bar_grip_views import bar_and_grip, bar_and_grip_numbers
from analysis.progress.views import progress, progress_numbers

urlpatterns = [
    path("athletes/<int:pk>/progress/", progress, name="progress"),
    path("athletes/<int:pk>/progress/<slug:figure>.csv", progress_numbers, name="progress-numbers"),
    path("athletes/<int:pk>/back-load/", back_load, name="back-load"),
    path("athletes/<int:pk>/back-load/<slug:figure>.csv", back_load_numbers, name="back-load-numbers"),
    path("athletes/<int:pk>/bar-and-grip/", bar_and_grip, name="bar-and-grip"),
    path("athletes/<int:pk>/bar-and-grip/<slug:figure>.csv", bar_and_grip_numbers, name="bar-and-grip-numbers"),
]
