"""Address of the page that says what everything is built on."""

from django.urls import path

from analysis.how_it_works.page import how_it_works

urlpatterns = [path("how-it-works/", how_it_works, name="how-it-works")]
