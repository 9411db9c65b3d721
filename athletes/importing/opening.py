"""Opening a workbook: a process of its own writes the sheet as a text table, each step looks how far it is.

The process touches its progress file every second: one that was killed is noticed after ten seconds and the sheet is
opened anew. So the steps stay short and the queue goes on with other tasks meanwhile.
"""

import os
import subprocess
import sys
import threading
import time
from pathlib import Path

from django.conf import settings
from django.db import transaction

from athletes.importing.files.tables import forget_opened, job_folder, upload_path
from athletes.importing.files.upload import options_of
from athletes.importing.moving.cursor import locked_if_unmoved
from athletes.importing.questions import begin_again
from athletes.models import ImportBatch
from athletes.reader.file.places import AT, OUTCOME, got, put
from athletes.reader.notes import Refused

TRIES = 2
TRIED = "tries.json"
SILENT = 10.0  # seconds without a sign of life after which the process counts as killed
LOOK_EVERY = 0.05
TWICE = "The workbook could not be opened, twice: it takes too much memory or time. Save the sheet as CSV."
Status = ImportBatch.Status


def open_workbook(batch: ImportBatch, until: float) -> None:
    """See that the sheet asked for is being opened; when it is, go on with its table."""
    source, folder = upload_path(batch), job_folder(batch)
    folder.mkdir(parents=True, exist_ok=True)
    while True:
        outcome = got(folder / OUTCOME)
        if outcome:
            _take_over(batch, outcome)
            return
        if not is_alive(folder):
            start(source, folder, str(batch.options.get("sheet_asked", "")))
        if time.monotonic() > until:
            _tell(batch, got(folder / AT))
            return
        time.sleep(LOOK_EVERY)


def is_alive(folder: Path) -> bool:
    """Whether a process works on this sheet: it touches its progress file every second."""
    at = folder / AT
    return at.exists() and time.time() - at.stat().st_mtime < SILENT


def start(source: Path, folder: Path, sheet: str) -> None:
    """Start the process that opens the sheet; a sheet that killed two of them is refused."""
    tried = int(str(got(folder / TRIED).get("tried", 0)))
    if tried >= TRIES:
        put(folder / OUTCOME, {"refused": TWICE})
        return
    put(folder / TRIED, {"tried": tried + 1})
    put(folder / AT, {"row": 0, "about": 0})
    _start([str(source), str(folder), sheet])


def _start(args: list[str]) -> None:
    kept = {name: os.environ[name] for name in ("PATH", "LANG", "LC_ALL", "PYTHONPATH") if name in os.environ}
    process = subprocess.Popen(  # noqa: S603
        [sys.executable, "-m", "athletes.importing.files.workbook", *args],
        cwd=settings.BASE_DIR,
        env=kept | {"OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1"},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        start_new_session=True,
    )
    threading.Thread(target=process.wait, daemon=True).start()  # collects its exit status


def _tell(batch: ImportBatch, at: dict[str, object]) -> None:
    """Keep how far the opener is, for the page."""
    with transaction.atomic():
        now = locked_if_unmoved(batch)
        if now is not None and at:
            now.rows_read, now.rows_total = int(str(at["row"])), int(str(at["about"]))
            now.save(update_fields=["rows_read", "rows_total"])


def _take_over(batch: ImportBatch, outcome: dict[str, object]) -> None:
    """Go on with the table; a sheet that cannot be read leaves an import that was read before as it was."""
    before = dict(batch.options)
    try:
        options = _options(batch, outcome)
    except Refused as problem:
        if "format" not in before:
            raise
        _leave(batch, before, f"Not changed. {problem}")
        return
    with transaction.atomic():
        batch.options = before
        now = locked_if_unmoved(batch)
        if now is None:
            return
        now.rows.all()._raw_delete(using=now._state.db)
        now.options = options
        begin_again(now)
    forget_opened(str(batch.file.name), but=int(str(options["table"])))


def _options(batch: ImportBatch, outcome: dict[str, object]) -> dict[str, object]:
    if "refused" in outcome:
        raise Refused(str(outcome["refused"]))
    job = batch.options["job"]
    table = {name: outcome[name] for name in ("sheet", "sheets", "macros", "unworked")} | {"job": job, "table": job}
    made = options_of(batch, {"encoding": "utf-8", "separator": ","}, table)
    return made | {"turn": batch.options["turn"]} | dict(batch.options.get("marks", {}))


def _leave(batch: ImportBatch, before: dict[str, object], reason: str) -> None:
    with transaction.atomic():
        batch.options = before
        now = locked_if_unmoved(batch)
        if now is not None:
            now.status, now.reason, now.rows_read = Status.READY, reason[:300], now.rows.count()
            now.options = before | {"phase": ""}
            now.save()
