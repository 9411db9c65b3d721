"""Files of other kinds under a table's name, told by how they begin."""

from athletes.reader.refused import Refused

BYTES: tuple[tuple[bytes, str], ...] = (
    (b"%PDF", "a PDF file"),
    (b"\x89PNG", "a picture (PNG)"),
    (b"\xff\xd8\xff", "a picture (JPEG)"),
    (b"GIF8", "a picture (GIF)"),
    (b"\x1f\x8b", "a packed file (GZIP)"),
    (b"7z\xbc\xaf", "a packed file (7Z)"),
    (b"Rar!", "a packed file (RAR)"),
    (b"PK\x05\x06", "an empty packed file (ZIP)"),
    (b"SQLite format 3", "a database"),
    (b"{\\rtf", "a text document (RTF)"),
)
WORDS: tuple[tuple[tuple[str, ...], str], ...] = (
    (("<!doctype", "<html", "<head", "<table", "<body"), "a web page (HTML)"),
    (("<?xml", "<workbook"), "an XML file"),
    (("begin:vcalendar",), "a calendar file"),
)
ADVICE = "Open it where it was made, copy the table into a spreadsheet, and save that as CSV or XLSX."


def refuse_other_bytes(sample: bytes) -> None:
    """Refuse what begins like a file of another kind."""
    for mark, kind in BYTES:
        if sample.startswith(mark):
            raise Refused(f"This is {kind}, not a table: line 1, column 1. {ADVICE}")


def refuse_other_text(head: list[str]) -> None:
    """Refuse text that is written for a program and not as a table."""
    first = next((line.strip().lower() for line in head if line.strip()), "")
    for marks, kind in WORDS:
        if first.startswith(marks):
            raise Refused(f"This is {kind}, not a table of cells: line 1, column 1. {ADVICE}")
    if first[:1] in ("{", "[") and sum(line.count('":') + line.count('" :') for line in head) >= 2:
        raise Refused(f"This is a JSON file, not a table of cells: line 1, column 1. {ADVICE}")
