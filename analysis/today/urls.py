"""Addresses of Today: the lifter's first page, and the page after a miss."""

from django.urls import path

from analysis.today.views import today, today_missed

urlpatterns = [
    path("athletes/<int:pk>/", today, name="summary"),
    path("athletes/<int:pk>/today/missed/<int:set>/", today_missed, name="today-missed"),
]
