"""Taking a file in: kept, looked at for what must be refused at once, and its make found out."""

import hashlib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from django.core.files.uploadedfile import UploadedFile
from django.utils.text import get_valid_filename

from athletes.importing.files.tables import table_path
from athletes.models import Athlete, Club, ImportAnswer, ImportBatch, User
from athletes.reader import layout
from athletes.reader.columns import heading_key
from athletes.reader.file import FileFormat, detect_format
from athletes.reader.file.workbook import check_no_old_workbook, check_no_web_page, check_workbook, is_zip
from athletes.reader.notes import Refused

FILE_WIDE = (
    "unit", "sets-reps", "date-order", "at-number", "minus", "plates", "cut-off", "missed-reps", "brackets", "dash",
    "times-load", "note-miss", "feet", "arm", "landmarks", "mass-unit",
)  # fmt: skip


def begin(
    club: Club, author: User | None, upload: UploadedFile, limit: int, athlete: Athlete | None = None
) -> ImportBatch:
    """Keep an upload and find out how it is written; a file that cannot be a log is refused with the reason."""
    if upload.size and upload.size > limit:
        raise Refused(f"The file has {upload.size // 2**20:,} MB; at most {limit // 2**20} MB are read. Split it.")
    if not upload.size:
        raise Refused("The file is empty.")
    name = get_valid_filename(Path(upload.name or "log").name.strip(". ") or "log")[-100:]
    batch = ImportBatch(club=club, author=author, athlete=athlete, file_name=(upload.name or "log")[-120:])
    batch.file_hash = _hash(upload)
    batch.file.save(name, upload, save=False)
    try:
        batch.options = first_options(batch)
    except Refused:
        batch.file.delete(save=False)
        raise
    batch.save()
    return batch


def first_options(batch: ImportBatch) -> dict[str, object]:
    """What can be told at once: how a text table is written, or that a workbook has to be opened."""
    path = Path(batch.file.path)
    if is_zip(path):
        check_workbook(path)
        return {"phase": "open", "job": 1, "turn": 0, "answers": {}}
    check_no_old_workbook(path)
    check_no_web_page(path)
    return options_of(batch, {})


def _hash(upload: UploadedFile) -> str:
    digest = hashlib.sha256()
    for chunk in upload.chunks():
        digest.update(chunk)
    upload.seek(0)
    return digest.hexdigest()


def options_of(
    batch: ImportBatch, given: Mapping[str, Any], table: dict[str, object] | None = None
) -> dict[str, object]:
    """Everything found out about a text table; what is given is kept, and so is which sheet the table is."""
    options: dict[str, object] = {"phase": "look", "turn": 1, "answers": {}} | (table or {})
    batch.options = options
    found = detect_format(table_path(batch), str(given.get("encoding", "")), given.get("separator"))
    options["format"] = found.as_json()
    return options | columns_of(batch, found) | {"answers": remembered(batch, options)}


def columns_of(batch: ImportBatch, found: FileFormat) -> dict[str, object]:
    """Headings, units and mapping of the columns."""
    columns = layout.columns_of(table_path(batch), found, batch.athlete_id is not None)
    return columns._asdict() | {"signature": signature(columns.headings, columns.mapping)}


def signature(headings: list[str], mapping: list[str]) -> str:
    """A short key of files that look alike: the same headings, or the same columns where there are none."""
    words = "|".join(heading_key(h) for h in headings) or "|".join(mapping)
    return hashlib.sha256(words.encode()).hexdigest()[:16]


def remembered(batch: ImportBatch, options: dict[str, object]) -> dict[str, object]:
    """What the club answered before about names, lifts and words, and about files with these headings."""
    columns = options.get("signature")
    answers = {}
    for said in ImportAnswer.objects.filter(club=batch.club):
        if said.question not in FILE_WIDE or columns is None or said.subject == columns:
            answers[f"{said.question}|{said.subject}"] = said.answer
    return answers


def unless_contradicted(batch: ImportBatch) -> dict[str, object]:
    """The remembered answers without an order of day and month that this very file contradicts."""
    answers, order = dict(batch.options["answers"]), batch.options.get("date_order")
    remembered_order = answers.get(f"date-order|{batch.options['signature']}")
    if order and remembered_order and remembered_order != order:
        del answers[f"date-order|{batch.options['signature']}"]
    return answers
