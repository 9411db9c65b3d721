"""Addresses of logs coming in from files."""

from django.urls import path

from athletes.importing import views as imports

urlpatterns = [
    path("imports/", imports.imports, name="imports"),
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
]
