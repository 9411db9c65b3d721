"""Static files: names that change with their content, and the plotting library's script from its Python package."""

from collections.abc import Iterable, Iterator
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from django.contrib.staticfiles.finders import BaseFinder
from django.core.files.storage import FileSystemStorage, Storage
from whitenoise.storage import CompressedManifestStaticFilesStorage

PLOTLY_SCRIPT = "plotly.min.js"


class NamedByContent(CompressedManifestStaticFilesStorage):  # type: ignore[misc]  # the package has no types
    """Rewrites the imports inside ES modules too: a page never joins a new module with an old one from a cache."""

    support_js_module_import_aggregation = True


class PlotlyFinder(BaseFinder):
    """Finds `plotly/plotly.min.js` in the installed plotly package.

    The script is the one that the package draws for, and no copy of it is kept with our own files. The folder is looked
    up without importing plotly, which takes a quarter of a second and 60 MB.
    """

    prefix = "plotly"

    def __init__(self) -> None:
        spec = find_spec("plotly")
        folders = list(spec.submodule_search_locations or ()) if spec else []
        if not folders:
            raise ModuleNotFoundError("The package plotly is not installed; the dashboards need its script.")
        self.storage = FileSystemStorage(location=Path(folders[0]) / "package_data")
        self.storage.prefix = self.prefix  # type: ignore[attr-defined]  # collectstatic reads it, the class has none

    def check(self, **kwargs: Any) -> list[Any]:
        """No messages: the finder has no setting that could be wrong."""
        return []

    def find(self, path: str, find_all: bool = False, **kwargs: Any) -> Any:
        """Full path of the script for its static name, else an empty list."""
        if path != f"{self.prefix}/{PLOTLY_SCRIPT}":
            return []
        found = self.storage.path(PLOTLY_SCRIPT)
        return [found] if find_all else found

    def list(self, ignore_patterns: Iterable[str] | None) -> Iterator[tuple[str, Storage]]:
        """The script and the storage that holds it, as `collectstatic` reads them."""
        yield PLOTLY_SCRIPT, self.storage
