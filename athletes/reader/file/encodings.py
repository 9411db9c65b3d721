"""Which encoding a file is in: a mark at its start, strict UTF-8, or the likeliest of the older ones."""

import codecs
from itertools import pairwise
from pathlib import Path

from charset_normalizer import from_bytes

from athletes.reader.notes import Refused

ENCODINGS = {
    "utf-8": "UTF-8",
    "utf-8-sig": "UTF-8 with a mark at the start",
    "utf-16-le": "UTF-16 (little end first)",
    "utf-16-be": "UTF-16 (big end first)",
    "cp1252": "Western European (Windows-1252, Latin-1)",
    "cp1250": "Central European (Windows-1250)",
    "cp1251": "Cyrillic (Windows-1251)",
    "cp1253": "Greek (Windows-1253)",
    "cp1254": "Turkish (Windows-1254)",
    "koi8_r": "Cyrillic (KOI8-R)",
    "mac_roman": "old Macintosh",
    "shift_jis": "Japanese (Shift JIS)",
    "gb18030": "Chinese (GB 18030)",
    "big5": "Chinese (Big5)",
    "euc_kr": "Korean (EUC-KR)",
}
OLDER = [name for name in ENCODINGS if not name.startswith("utf")]
WESTERN = set("àáâãäåæçèéêëìíîïñòóôõöøœšúùûüýÿžßÀÁÂÃÄÅÆÇÈÉÊËÌÍÎÏÑÒÓÔÕÖØŒÙÚÛÜ«»‘’‚“”„–—…€£°·×½¼¾´¨ºª¡¿§©®\xa0±²³")
SAMPLE = 256 * 1024


def detect_encoding(path: Path) -> str:
    """The encoding's name; raises Refused for a file that is no text at all."""
    with path.open("rb") as file:
        sample = file.read(SAMPLE)
    refuse_other_bytes(sample)
    for mark, name in (
        (codecs.BOM_UTF8, "utf-8-sig"),
        (codecs.BOM_UTF16_LE, "utf-16-le"),
        (codecs.BOM_UTF16_BE, "utf-16-be"),
    ):
        if sample.startswith(mark):
            return name
    wide = _utf16(sample)
    if wide:
        return wide
    _refuse_binary(sample)
    return "utf-8" if _is_utf8(path) else _older(sample)


def _utf16(sample: bytes) -> str:
    if len(sample) < 4:
        return ""
    even, odd = sample[::2].count(0), sample[1::2].count(0)
    half = len(sample) // 2
    if odd > half * 0.4 and even < half * 0.05:
        return "utf-16-le"
    return "utf-16-be" if even > half * 0.4 and odd < half * 0.05 else ""


def _refuse_binary(sample: bytes) -> None:
    odd = [i for i, byte in enumerate(sample) if byte < 32 and byte not in (9, 10, 11, 12, 13, 26, 27)]
    if odd and (0 in sample[:1000] or len(odd) > max(2, len(sample) * 0.005)):
        before = sample[: odd[0]].replace(b"\r\n", b"\n").replace(b"\r", b"\n")
        line, column = before.count(b"\n") + 1, len(before) - (before.rfind(b"\n") + 1) + 1
        raise Refused(f"This is not a text table: line {line}, column {column} holds the byte 0x{sample[odd[0]]:02x}.")


def _is_utf8(path: Path) -> bool:
    decoder = codecs.getincrementaldecoder("utf-8")()
    with path.open("rb") as file:
        try:
            while chunk := file.read(1 << 20):
                decoder.decode(chunk)
            decoder.decode(b"", final=True)
        except UnicodeDecodeError:
            return False
    return True


def _older(sample: bytes) -> str:
    western = sample.decode("cp1252", errors="replace")
    letters = sum(c.isalpha() for c in western) or 1
    if sum(ord(c) > 127 for c in western) < 0.3 * letters:
        return min(("cp1252", "mac_roman", "cp1250"), key=lambda name: _oddities(sample, name))
    best = from_bytes(sample[: 64 * 1024], cp_isolation=OLDER).best()
    return best.encoding if best and best.encoding in ENCODINGS else "cp1252"


def _oddities(sample: bytes, encoding: str) -> int:
    """How often an accented character stands where none belongs: a capital or a sign inside a word of small letters."""
    text = sample.decode(encoding, errors="replace")
    odd = 0
    for before, here in pairwise(text):
        if ord(here) > 127 and before.isalpha() and before.islower():
            odd += here.isupper() or not (here.isalpha() or here in "’”»…–— ")
        odd += here not in WESTERN and ord(here) > 127 and encoding == "cp1252"
    return odd


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
