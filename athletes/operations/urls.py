from django.urls import path

from athletes.operations import health

urlpatterns = [
    path("healthz", health.alive, name="alive"),
    path("readyz", health.ready, name="ready"),
]
