"""Workbooks for the tests of the import, whole and broken."""

import io
import re
import zipfile
from datetime import date
from pathlib import Path

from django.core.files.uploadedfile import SimpleUploadedFile
from openpyxl import Workbook

from athletes.importing.files.upload import begin
from athletes.models import ImportBatch
from athletes.reader.notes import Refused
from tests.athletes.importing.import_steps import LIMIT, read_in

ROOT = Path(__file__).resolve().parents[3]


HEAD = ["Date", "Lifter", "Lift", "Weight", "Unit", "Reps"]


ADA = [date(2026, 3, 4), "Ada Fell", "Sumo", 182.5, "kg", 3]


def book(rows, **more) -> bytes:
    """A workbook with these rows on its first sheet, and further sheets by name."""
    made = Workbook()
    for row in rows:
        made.active.append(row)
    for name, others in more.items():
        page = made.create_sheet(name)
        for row in others:
            page.append(row)
    out = io.BytesIO()
    made.save(out)
    return out.getvalue()


def repacked(content: bytes, **parts: object) -> bytes:
    """The workbook with other texts, or changes of them, in some of its parts."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed, zipfile.ZipFile(io.BytesIO(content)) as good:
        for part in good.infolist():
            new = parts.pop(part.filename, None)
            old = good.read(part)
            packed.writestr(part.filename, new(old) if callable(new) else old if new is None else new)
        for name, text in parts.items():
            packed.writestr(name, text)
    return out.getvalue()


def with_result(sheet: bytes, result: bytes) -> bytes:
    return re.sub(rb"</f><v ?/?>(</v>)?", b"</f><v>" + result + b"</v>", sheet)


def sheet_of(row: bytes, times: int, cells: int = 1) -> bytes:
    """A workbook whose sheet holds that many rows of that many cells, written without a library."""
    whole = b'<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>'
    rows = (b"<row>" + row * cells + b"</row>") * times
    return repacked(book([["a"]]), **{"xl/worksheets/sheet1.xml": whole + rows + b"</sheetData></worksheet>"})


def packed(**parts: str) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as made:
        for name, text in parts.items():
            made.writestr(name, text)
    return out.getvalue()


def waiting(cast, content, name="log.xlsx") -> ImportBatch:
    return begin(cast.quarry, cast.stan, SimpleUploadedFile(name, content), LIMIT)


def reason(cast, content, name="log.xlsx") -> str:
    """Why a file is refused, at once or when it is opened; "" when it is not."""
    try:
        return read_in(cast, content, name).reason
    except Refused as problem:
        return str(problem)
