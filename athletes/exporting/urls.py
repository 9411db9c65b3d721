"""Addresses of logs and copies of athletes going out, and of copies coming in."""

from django.urls import path

from athletes.exporting import views as exports
from athletes.exporting import views as hand_over

urlpatterns = [
    path("imports/archive/", exports.archive_import, name="archive-import"),
    path("exports/", exports.exports, name="exports"),
    path("exports/squad.csv", exports.export_squad, name="export-squad"),
    path("athletes/<int:pk>/export/lifts.csv", exports.export_athlete, name="export-athlete"),
    path("athletes/<int:pk>/export/archive.zip", exports.archive, name="archive"),
    path("athletes/<int:pk>/hand-over/", hand_over.hand_over, name="hand-over"),
]
