"""Addresses of the taps of a lifter's day."""

from django.urls import path

from athletes.day.views import today_log, today_undo

urlpatterns = [
    path("athletes/<int:pk>/today/", today_log, name="today-log"),
    path("athletes/<int:pk>/today/<int:set>/undo/", today_undo, name="today-undo"),
]
