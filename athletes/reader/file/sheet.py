"""One sheet of a workbook as a text table, through openpyxl with defusedxml; loads without Django."""

import csv
import re
import warnings
import zipfile
import zlib
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from datetime import time as clock
from itertools import islice
from pathlib import Path
from typing import Any

from openpyxl import load_workbook
from openpyxl.styles.numbers import BUILTIN_FORMATS
from openpyxl.utils.exceptions import InvalidFileException

from athletes.reader.file.places import LINE_BREAK
from athletes.reader.file.workbook import check_workbook
from athletes.reader.notes import LONGEST_CELL, MOST_COLUMNS, MOST_ROWS, Refused

MOST_WRITTEN = 150 * 1024 * 1024  # one long text may be used by many cells
TOLD_EVERY = 500
OUT_OF_MEMORY = "out of memory"
DAMAGED = (
    InvalidFileException,
    KeyError,
    ValueError,
    TypeError,
    AttributeError,
    IndexError,
    OSError,
    SyntaxError,
    NotImplementedError,
    RuntimeError,
    zipfile.BadZipFile,
    zlib.error,
    EOFError,
    OverflowError,
    AssertionError,
)
FORMULA = re.compile(rb"<(?:\w+:)?f[ >/]")
RESULT = re.compile(rb"(?:</(?:\w+:)?f>|/>)<(?:\w+:)?v>[^<]")
TABLE_WIDTH, NEAR_TOP = 3, 50
Tell = Callable[[int, int], None]


@dataclass(frozen=True)
class SheetResult:
    """What became of a workbook: the sheet that was written, all sheets, and what was left out."""

    sheet: str
    sheets: list[str]
    macros: bool = False
    unworked: bool = False


def sheet_to_csv(path: Path, target: Path, sheet: str = "", tell: Tell = lambda row, about: None) -> SheetResult:
    """Write one sheet as UTF-8 text, the rows numbered as in the sheet; `tell` hears how far it is."""
    check_workbook(path)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            unworked = formulas_without_results(path)
            book = load_workbook(path, read_only=True, data_only=not unworked, keep_links=False)
            names = [s.title for s in book.worksheets]
            if not names:
                raise Refused("The workbook has no sheet with cells.")
            chosen = sheet if sheet in names else _fullest(book, names)
            page = book[chosen]
            about = page.max_row or 0
            page.reset_dimensions()
            with target.open("w", encoding="utf-8", newline="") as file:
                _write(_values(book, page), csv.writer(file, lineterminator="\n"), about, tell)
    except Refused:
        raise
    except DAMAGED as problem:
        if OUT_OF_MEMORY in str(problem):
            raise MemoryError from None
        raise Refused(
            f"The workbook is damaged and cannot be read ({type(problem).__name__}). Save it again, or as CSV."
        ) from None
    with zipfile.ZipFile(path) as packed:
        macros = any(name.endswith("vbaProject.bin") for name in packed.namelist())
    return SheetResult(chosen, names, macros, unworked)


def formulas_without_results(path: Path) -> bool:
    """Whether the sheets have formulas and not one result, as some programs write them: read blank they would be lost.

    In a file that was ever worked out an empty result is an empty cell, so there the results count.
    """
    formulas = False
    with zipfile.ZipFile(path) as packed:
        for name in packed.namelist():
            if not name.startswith("xl/worksheets/") or not name.endswith(".xml"):
                continue
            with packed.open(name) as part:
                before = b""
                while chunk := part.read(1 << 20):
                    text = before + chunk
                    if RESULT.search(text):
                        return False
                    formulas = formulas or bool(FORMULA.search(text))
                    before = chunk[-40:]
    return formulas


def _fullest(book: Any, names: list[str]) -> str:
    """The first sheet with a line of a table near its top, else the first with a filled line there."""
    widest = {name: _widest_line(book[name]) for name in names}
    tables = [name for name in names if widest[name] >= TABLE_WIDTH]
    return next(iter([*tables, *(name for name in names if widest[name])]), names[0])


def _widest_line(page: Any) -> int:
    """How many cells the fullest line near the top of a sheet has."""
    page.reset_dimensions()
    lines = islice(page.iter_rows(values_only=True), NEAR_TOP)
    return max((sum(c is not None for c in cells) for cells in lines), default=0)


def _values(book: Any, page: Any) -> Iterable[tuple[object, ...]]:
    """The cells' values; where the workbook has shares in per cent, those as they are shown."""
    formats = [*book._number_formats, *(BUILTIN_FORMATS.get(style.numFmtId, "") for style in book._cell_styles)]
    if not any("%" in one for one in formats):
        yield from page.iter_rows(values_only=True)
        return
    for row in page.iter_rows():
        yield tuple(_as_shown(cell) for cell in row)


def _as_shown(cell: Any) -> object:
    value = cell.value
    if isinstance(value, int | float) and not isinstance(value, bool) and "%" in str(cell.number_format):
        return f"{_number(float(value) * 100)}%"
    return value


def _write(rows: Iterable[tuple[object, ...]], writer: Any, about: int, tell: Tell) -> None:
    """Blank rows are kept where filled ones follow, so that line and row have the same number; not at the end."""
    blank = written = 0
    for number, row in enumerate(rows, 1):
        cells = [as_text(value) for value in row]
        while cells and not cells[-1]:
            cells.pop()
        if number % TOLD_EVERY == 0:
            tell(number, about)
        if not cells:
            blank += 1
            continue
        _check(number, cells)
        written += blank + sum(map(len, cells)) + len(cells)
        if written > MOST_WRITTEN:
            raise Refused(f"Row {number:,}: the sheet's text comes to more than {MOST_WRITTEN // 2**20} MB. Split it.")
        for _ in range(blank):
            writer.writerow([])
        writer.writerow(cells)
        blank = 0


def _check(number: int, cells: list[str]) -> None:
    if len(cells) > MOST_COLUMNS:
        raise Refused(f"Row {number:,} has {len(cells):,} columns; a log has at most {MOST_COLUMNS}.")
    if number > MOST_ROWS:
        raise Refused(f"The sheet has more than {MOST_ROWS:,} rows. Split it and import the parts.")
    for column, cell in enumerate(cells, 1):
        if len(cell) > LONGEST_CELL:
            raise Refused(f"Row {number:,}, column {column}: a cell of {len(cell):,} characters.")


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
        return _number(value)
    if isinstance(value, clock | timedelta):
        return str(value)
    text = str(getattr(value, "text", value)).replace("\x00", "\ufffd")
    return LINE_BREAK.join(text.splitlines()) if "\n" in text or "\r" in text else text


def _number(value: float) -> str:
    if value != value or abs(value) == float("inf"):
        return str(value)
    return str(int(value)) if value == int(value) and abs(value) < 1e15 else repr(round(value, 9))
