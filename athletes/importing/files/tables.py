"""Where the text table of an import lies: the upload itself, or what its workbook was opened to."""

import shutil
from pathlib import Path

from django.conf import settings

from athletes.models import ImportBatch
from athletes.reader.file.places import OPENED, TABLE
from athletes.reader.notes import Refused


def opened(name: str) -> Path:
    """The folder of everything that was made of an upload; no upload can lie there itself."""
    return Path(settings.MEDIA_ROOT) / OPENED / Path(name).name


def job_folder(batch: ImportBatch) -> Path:
    """Where the sheet asked for last is opened to; every try at a sheet has a folder of its own."""
    return opened(str(batch.file.name)) / str(int(batch.options["job"]))


def upload_path(batch: ImportBatch) -> Path:
    """The upload itself, which is not kept for ever."""
    path = Path(batch.file.path) if batch.file else None
    if path is None or not path.exists():
        raise Refused("The uploaded file is not kept any more. Upload it again.")
    return path


def table_path(batch: ImportBatch) -> Path:
    """The text table that is read."""
    path = upload_path(batch)
    if "table" in batch.options:
        return opened(str(batch.file.name)) / str(int(batch.options["table"])) / TABLE
    return _beside(path) if batch.options.get("sheets") else path


def _beside(path: Path) -> Path:
    """Where tables lay before they had folders."""
    return path.with_name(path.name + ".table")


def forget_opened(name: str, but: int | None = None) -> None:
    """Remove what was made of an upload, when the upload goes or another sheet has taken its place."""
    if not name:
        return
    if but is None:
        shutil.rmtree(opened(name), ignore_errors=True)
    else:
        for folder in opened(name).iterdir():
            if folder.name != str(but):
                shutil.rmtree(folder, ignore_errors=True)
    _beside(Path(settings.MEDIA_ROOT) / name).unlink(missing_ok=True)
