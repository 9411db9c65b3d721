"""Addresses of the lift log."""

from django.urls import path

from athletes.log import day_views as day_note
from athletes.log import views as lifts

urlpatterns = [
    path("athletes/<int:pk>/lifts/", lifts.lifts, name="lifts"),
    path("athletes/<int:pk>/lifts/new/", lifts.lift_new, name="lift-new"),
    path("athletes/<int:pk>/lifts/<int:set>/", lifts.lift_correct, name="lift-correct"),
    path("athletes/<int:pk>/lifts/<int:set>/undo/", lifts.lift_undo, name="lift-undo"),
    path("athletes/<int:pk>/lifts/<int:set>/slowest/", lifts.lift_slowest, name="lift-slowest"),
    path("athletes/<int:pk>/lifts/put-back/<int:entry>/", lifts.lift_put_back, name="lift-put-back"),
    path("athletes/<int:pk>/days/<str:iso>/", day_note.day_note, name="day-note"),
]
