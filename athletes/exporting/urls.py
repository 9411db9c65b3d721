"""Addresses of logs and copies of athletes going out, and of copies coming in."""

from django.urls import path

from athletes.exporting import views as exports
from athletes.exporting import views as hand_over

urlpatterns = [
    path("imports/archive/", exports.archive_import, name="archive-import"),
    path("exports/", exports.exports, name="exports"),
    path("exports/squad/", exports.export_squad, name="export-squad"),
    path("exports/files/<uuid:uid>/", exports.prepared_file, name="prepared-file"),
    path("exports/files/<uuid:uid>/file/", exports.take_file, name="take-file"),
    path("athletes/<int:pk>/export/", exports.export_athlete, name="export-athlete"),
    path("athletes/<int:pk>/hand-over/", hand_over.hand_over, name="hand-over"),
]
