"""Workbooks into plain text tables, through openpyxl with defusedxml, after a look at what they would unpack to."""

import csv
import time
import warnings
import zipfile
import zlib
from collections.abc import Iterable
from datetime import date, datetime, timedelta
from datetime import time as clock
from pathlib import Path

from openpyxl import DEFUSEDXML, load_workbook
from openpyxl.utils.exceptions import InvalidFileException

from .csv_reader.records import LONGEST_CELL, MOST_COLUMNS, MOST_ROWS
from .refused import Refused

MOST_UNPACKED = 300 * 1024 * 1024
MOST_STRINGS = 40 * 1024 * 1024
MOST_PARTS = 2_000
MOST_SECONDS = 60.0
MOST_BLANK = 2_000
DAMAGED = (
    InvalidFileException,
    KeyError,
    ValueError,
    TypeError,
    AttributeError,
    IndexError,
    OSError,
    SyntaxError,
    zipfile.BadZipFile,
    zlib.error,
    EOFError,
    OverflowError,
    RecursionError,
    AssertionError,
)


def is_zip(path: Path) -> bool:
    """Whether the file begins as a workbook of today's kind does."""
    with path.open("rb") as file:
        return file.read(4) == b"PK\x03\x04"


def check_workbook(path: Path) -> None:
    """Refuse what is no workbook or would unpack to more than a log can be; the sizes bound what is ever read."""
    try:
        with zipfile.ZipFile(path) as packed:
            parts = packed.infolist()
    except (zipfile.BadZipFile, OSError, NotImplementedError, ValueError):
        raise Refused("The file says it is a workbook but its parts cannot be opened.") from None
    names = {part.filename for part in parts}
    if "xl/workbook.xml" not in names:
        raise Refused("This is a packed file but no XLSX workbook. Save the table as XLSX or CSV.")
    if len(parts) > MOST_PARTS:
        raise Refused(f"The workbook holds {len(parts):,} parts; at most {MOST_PARTS:,} are read.")
    whole = sum(part.file_size for part in parts)
    if whole > MOST_UNPACKED:
        raise Refused(
            f"The workbook would unpack to {whole // 2**20:,} MB; at most {MOST_UNPACKED // 2**20} MB are read."
        )
    strings = sum(part.file_size for part in parts if "sharedstrings" in part.filename.lower())
    if strings > MOST_STRINGS:
        raise Refused(f"The workbook's texts alone would unpack to {strings // 2**20:,} MB. Save the sheet as CSV.")
    if any(part.flag_bits & 1 for part in parts):
        raise Refused("The workbook is locked with a password.")
    if not DEFUSEDXML:
        raise Refused(
            "Workbooks cannot be opened safely on this machine (defusedxml is missing). Save the table as CSV."
        )


def sheet_to_csv(path: Path, target: Path, sheet: str = "") -> tuple[str, list[str]]:
    """Write one sheet as UTF-8 text; returns the sheet's name and the names of all sheets."""
    check_workbook(path)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            book = load_workbook(path, read_only=True, data_only=True, keep_links=False)
            names = [s.title for s in book.worksheets]
            if not names:
                raise Refused("The workbook has no sheet with cells.")
            chosen = sheet if sheet in names else _fullest(book, names)
            page = book[chosen]
            page.reset_dimensions()
            with target.open("w", encoding="utf-8", newline="") as file:
                _write(page.iter_rows(values_only=True), csv.writer(file, lineterminator="\n"))
    except Refused:
        raise
    except DAMAGED as problem:
        raise Refused(
            f"The workbook is damaged and cannot be read ({type(problem).__name__}). Save it again, or as CSV."
        ) from None
    return chosen, names


def _fullest(book, names: list[str]) -> str:  # noqa: ANN001
    """The first sheet that has a filled line near its top."""
    for name in names:
        page = book[name]
        page.reset_dimensions()
        for number, cells in enumerate(page.iter_rows(values_only=True)):
            if any(c is not None for c in cells):
                return name
            if number > 50:
                break
    return names[0]


def _write(rows: Iterable[tuple[object, ...]], writer) -> None:  # noqa: ANN001
    began, blank = time.monotonic(), 0
    for number, row in enumerate(rows, 1):
        cells = [as_text(value) for value in row]
        while cells and not cells[-1]:
            cells.pop()
        if len(cells) > MOST_COLUMNS:
            raise Refused(f"Row {number} has {len(cells):,} columns; a log has at most {MOST_COLUMNS}.")
        if number > MOST_ROWS:
            raise Refused(f"The sheet has more than {MOST_ROWS:,} rows. Split it and import the parts.")
        for column, cell in enumerate(cells, 1):
            if len(cell) > LONGEST_CELL:
                raise Refused(f"Row {number}, column {column}: a cell of {len(cell):,} characters.")
        blank = 0 if cells else blank + 1
        if blank > MOST_BLANK:
            return
        if time.monotonic() - began > MOST_SECONDS:
            raise Refused(
                f"The sheet takes too long to open (row {number:,} after {MOST_SECONDS:.0f} s). Save it as CSV."
            )
        writer.writerow(cells)


def as_text(value: object) -> str:
    """A cell's value as a person would type it; a date as year-month-day."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, datetime):
        return value.date().isoformat() if value.time() == clock(0) else value.isoformat(sep=" ", timespec="seconds")
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, float):
        return str(int(value)) if value == int(value) and abs(value) < 1e15 else repr(round(value, 9))
    if isinstance(value, clock | timedelta):
        return str(value)
    return str(value).replace("\x00", "\ufffd")
