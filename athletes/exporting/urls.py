"""Addresses of logs coming in and going out."""

from django.urls import path

from athletes.exporting import hand_over_views as hand_over
from athletes.exporting import views as exports
from athletes.importing import views as imports

urlpatterns = [
    path("imports/", imports.imports, name="imports"),
    path("imports/archive/", exports.archive_import, name="archive-import"),
    path("imports/new/", imports.import_new, name="import-new"),
    path("imports/<int:pk>/", imports.import_page, name="import"),
    path("imports/<int:pk>/step/", imports.import_step, name="import-step"),
    path("imports/<int:pk>/answers/", imports.import_answers, name="import-answers"),
    path("imports/<int:pk>/make/", imports.import_make, name="import-make"),
    path("imports/<int:pk>/columns/", imports.import_columns, name="import-columns"),
    path("imports/<int:pk>/choices/", imports.import_choices, name="import-choices"),
    path("imports/<int:pk>/lines/<int:number>/", imports.import_line, name="import-line"),
    path("imports/<int:pk>/take/", imports.import_take, name="import-take"),
    path("imports/<int:pk>/undo/", imports.import_undo, name="import-undo"),
    path("imports/<int:pk>/drop/", imports.import_drop, name="import-drop"),
    path("exports/", exports.exports, name="exports"),
    path("exports/squad.csv", exports.export_squad, name="export-squad"),
    path("athletes/<int:pk>/export/lifts.csv", exports.export_athlete, name="export-athlete"),
    path("athletes/<int:pk>/export/archive.zip", exports.archive, name="archive"),
    path("athletes/<int:pk>/hand-over/", hand_over.hand_over, name="hand-over"),
]
