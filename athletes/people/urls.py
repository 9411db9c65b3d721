"""Addresses of people and their bodies."""

from django.urls import URLPattern, path

from athletes.measuring import posture_views as postures
from athletes.measuring import views as build
from athletes.measuring import views as how_to_measure
from athletes.people import first_meeting_views as first_meeting
from athletes.people import views as health
from athletes.people import views as people

urlpatterns: list[URLPattern] = [
    path("people/", people.people, name="people"),
    path("people/new/", people.athlete_new, name="athlete-new"),
    path("athletes/<int:pk>/profile/", people.profile, name="profile"),
    path("athletes/<int:pk>/edit/", people.athlete_edit, name="athlete-edit"),
    path("athletes/<int:pk>/first-meeting/", first_meeting.first_meeting, name="first-meeting"),
    path("athletes/<int:pk>/build/", build.build, name="build"),
    path("athletes/<int:pk>/build/new/", build.measure, name="measure"),
    path("athletes/<int:pk>/build/<int:visit>/", build.measure_edit, name="measure-edit"),
    path("athletes/<int:pk>/posture/", postures.posture, name="posture"),
    path("athletes/<int:pk>/posture/<int:entry>/", postures.posture_edit, name="posture-edit"),
    path("athletes/<int:pk>/health/", health.health_notes, name="health-notes"),
    path("how-to-measure/", how_to_measure.how_to_measure, name="how-to-measure"),
]
