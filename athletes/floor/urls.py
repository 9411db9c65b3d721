"""Addresses of the gym floor: the board, the plans, and what the board's scripts talk to."""

from django.urls import path

from athletes.floor import api as floor_api
from athletes.floor import service_worker
from athletes.floor import views as tonight
from athletes.log import plan_views as plan

urlpatterns = [
    path("tonight/", tonight.tonight, name="tonight"),
    path("tonight/print/", plan.tonight_print, name="tonight-print"),
    path("athletes/<int:pk>/plan/", plan.plan, name="plan"),
    path("athletes/<int:pk>/plan/print/", plan.plan_print, name="plan-print"),
    path("floor/state/", floor_api.state, name="floor-state"),
    path("floor/token/", floor_api.token, name="floor-token"),
    path("floor/entries/", floor_api.entries, name="floor-entries"),
    path("sw.js", service_worker.service_worker, name="service-worker"),
]
