"""Addresses of guardians and of minors who wait for one."""

from django.urls import path

from athletes.guardians import views

urlpatterns = [
    path("athletes/<int:pk>/guardian-link/", views.new_link, name="guardian-link"),
    path("guardian-needed/", views.needed, name="guardian-needed"),
    path("guardian/<str:token>/", views.guardian, name="guardian"),
    path("guardian/<str:token>/withdraw/", views.withdraw, name="guardian-withdraw"),
]
