"""What can be told of a file before anything of it is opened: its first bytes and a workbook's list of parts."""

import zipfile
from pathlib import Path

from openpyxl import DEFUSEDXML

from athletes.reader.notes import Refused

MOST_UNPACKED = 300 * 1024 * 1024
MOST_WHOLE = 40 * 1024 * 1024  # texts, styles and lists are held in memory as a whole
MOST_PARTS = 2_000
MOST_SHEETS = 100
OLD_WORKBOOK = b"\xd0\xcf\x11\xe0"
LOCKED = "EncryptedPackage".encode("utf-16-le")
WEB_PAGE = (b"<!doctype", b"<html", b"<table", b"<?xml", b"<meta")
OTHER_KINDS = {
    "xl/workbook.bin": "This is a workbook of the binary kind (XLSB).",
    "content.xml": "This is a table in the OpenDocument format (ODS).",
    "word/document.xml": "This is a text document, no table.",
    "ppt/presentation.xml": "These are slides, no table.",
    "athlete.json": "This is the copy of an athlete from a club: there is a page of its own for it, “Take in a copy”.",
}


def is_zip(path: Path) -> bool:
    """Whether the file begins as a workbook of today's kind does."""
    with path.open("rb") as file:
        return file.read(4) == b"PK\x03\x04"


def check_no_old_workbook(path: Path) -> None:
    """Refuse workbooks of the old kind, in whose wrapping locked ones of today's kind come too."""
    with path.open("rb") as file:
        if file.read(4) != OLD_WORKBOOK:
            return
        before = b""
        while chunk := file.read(1 << 20):
            if LOCKED in before + chunk:
                raise Refused("The workbook is locked with a password. Save it without one, or as CSV.")
            before = chunk[-len(LOCKED) :]
    raise Refused("This is a workbook of the old kind (XLS). Save it as XLSX or CSV and import that.")


def check_no_web_page(path: Path) -> None:
    """Refuse web pages and XML under the name of a table, as some systems hand them out."""
    with path.open("rb") as file:
        head = file.read(400).removeprefix(b"\xef\xbb\xbf").lstrip().lower()
    if head.startswith(WEB_PAGE):
        raise Refused("This is a web page or XML under the name of a table. Open it and save it as XLSX or CSV.")


def check_workbook(path: Path) -> None:
    """Refuse what is no workbook or would unpack to more than a log can be; the sizes bound what is ever read."""
    try:
        with zipfile.ZipFile(path) as packed:
            parts = packed.infolist()
    except (zipfile.BadZipFile, OSError, NotImplementedError, ValueError):
        raise Refused("The file says it is a workbook but its parts cannot be opened.") from None
    _check_kind({part.filename for part in parts})
    if any(part.flag_bits & 1 for part in parts):
        raise Refused("The workbook is locked with a password. Save it without one, or as CSV.")
    _check_sizes(parts)
    if not DEFUSEDXML:
        raise Refused(
            "Workbooks cannot be opened safely on this machine (defusedxml is missing). Save the table as CSV."
        )


def _check_kind(names: set[str]) -> None:
    if "xl/workbook.xml" in names:
        return
    said = next((words for name, words in OTHER_KINDS.items() if name in names), "")
    raise Refused(f"{said or 'This is a packed file but no XLSX workbook.'} Save the table as XLSX or CSV.")


def _check_sizes(parts: list[zipfile.ZipInfo]) -> None:
    if len(parts) > MOST_PARTS:
        raise Refused(f"The workbook holds {len(parts):,} parts; at most {MOST_PARTS:,} are read.")
    sheets = [part for part in parts if part.filename.startswith("xl/worksheets/") and part.filename.endswith(".xml")]
    if len(sheets) > MOST_SHEETS:
        raise Refused(f"The workbook has {len(sheets):,} sheets; at most {MOST_SHEETS} are read. Keep the log's only.")
    unpacked = sum(part.file_size for part in parts)
    if unpacked > MOST_UNPACKED:
        raise Refused(
            f"The workbook would unpack to {unpacked // 2**20:,} MB; at most {MOST_UNPACKED // 2**20} MB are read."
        )
    whole = sum(p.file_size for p in parts if p.filename.endswith((".xml", ".rels")) and p not in sheets)
    if whole > MOST_WHOLE:
        raise Refused(f"The workbook's texts alone would unpack to {whole // 2**20:,} MB. Save the sheet as CSV.")
