"""The table of one figure as a CSV file, for those without script."""

from __future__ import annotations

import csv
from collections.abc import Iterable

from django.http import Http404, HttpResponse

from analysis.progress.panel import Panel, figure_called
from athletes.exporting.csv_writer import MARK, guarded


def numbers_file(panels: Iterable[Panel], key: str) -> HttpResponse:
    """The numbers of the figure called `key` among the panels; 404 when there is none now."""
    figure = figure_called(panels, key)
    if figure is None:
        raise Http404("There is no such figure.")
    response = HttpResponse(MARK, content_type="text/csv; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="{key}.csv"'
    writer = csv.writer(response)
    for row in (figure.table.head, *figure.table.rows):
        writer.writerow([guarded(text) for text in row])
    return response
