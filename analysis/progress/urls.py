"""Addresses of the log, of the back work, of bar and grip, and of their figures' numbers."""

from django.urls import path

from analysis.progress.back_load_views import back_load, back_load_numbers
from analysis.progress.bar_grip_views import bar_and_grip, bar_and_grip_numbers
from analysis.progress.views import log, log_numbers, moved_to_log

urlpatterns = [
    path("athletes/<int:pk>/log/", log, name="log"),
    path("athletes/<int:pk>/log/<slug:figure>.csv", log_numbers, name="log-numbers"),
    path("athletes/<int:pk>/progress/", moved_to_log, name="progress"),
    path("athletes/<int:pk>/progress/<slug:figure>.csv", moved_to_log, name="progress-numbers"),
    path("athletes/<int:pk>/bests/", moved_to_log, name="bests"),
    path("athletes/<int:pk>/back-load/", back_load, name="back-load"),
    path("athletes/<int:pk>/back-load/<slug:figure>.csv", back_load_numbers, name="back-load-numbers"),
    path("athletes/<int:pk>/bar-and-grip/", bar_and_grip, name="bar-and-grip"),
    path("athletes/<int:pk>/bar-and-grip/<slug:figure>.csv", bar_and_grip_numbers, name="bar-and-grip-numbers"),
]
