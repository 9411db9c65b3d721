"""How a text table is written: encoding, separator, quotation marks, and which line holds the headings."""

import csv
from collections import Counter
from dataclasses import asdict, dataclass
from itertools import islice
from pathlib import Path

from ..columns import ALIASES, heading_key, is_header
from ..refused import Refused
from .encodings import detect_encoding
from .records import Record, lines, records

SEPARATORS = {",": "comma", ";": "semicolon", "\t": "tab", "|": "upright bar", "": "none: one cell a line"}
HEAD = 200
NOISE = frozenset(chr(i) for i in range(32) if chr(i) not in "\t\n\r\f\x0b") | {"\ufffd", "\x7f"}


@dataclass(frozen=True)
class FileFormat:
    """How the file is read; `heading_line` 0 says that it has no headings."""

    encoding: str
    separator: str
    quotes: bool = True
    heading_line: int = 0

    def as_json(self) -> dict[str, object]:
        """The format as it is kept with an import."""
        return asdict(self)


def detect_format(path: Path, encoding: str = "", separator: str | None = None) -> FileFormat:
    """The format of a file; what is given is kept, the rest is found out."""
    encoding = encoding or detect_encoding(path)
    head = list(islice(lines(path, encoding), HEAD))
    if not any(line.strip() for line in head):
        raise Refused("The file is empty.")
    _refuse_noise(head)
    announced = head[0].strip().lower()
    if separator is None and announced.startswith("sep=") and len(announced) == 5:
        separator = announced[4]
    if separator is None:
        separator = best_separator(head)
    quotes = _quotes_close(path, encoding, separator)
    return FileFormat(encoding, separator, quotes, _heading_line(path, encoding, separator, quotes))


def _refuse_noise(head: list[str]) -> None:
    """Text that is no text: control characters or unreadable bytes in a good part of it."""
    odd = [(n, c) for n, line in enumerate(head, 1) for c, mark in enumerate(line, 1) if mark in NOISE]
    if len(odd) > max(3, 0.02 * sum(map(len, head))):
        line, column = odd[0]
        raise Refused(
            f"This is not a text table: line {line}, column {column} holds what is no letter, number or sign."
        )


def best_separator(head: list[str]) -> str:
    """The separator that gives known headings, or else the steadiest number of cells."""
    scores = {sep: _score(head, sep) for sep in SEPARATORS if sep}
    best = max(scores, key=lambda sep: scores[sep])
    return best if scores[best] >= 2.5 else ""


def _score(head: list[str], separator: str) -> float:
    try:
        rows = [r for r in csv.reader(head, delimiter=separator) if any(c.strip() for c in r)]
    except csv.Error:
        return 0.0
    widths = Counter(len(r) for r in rows)
    if not widths or max(widths) == 1:
        return 0.0
    width, count = max(((w, n) for w, n in widths.items() if w > 1), key=lambda pair: (pair[1], pair[0]))
    known = max(sum(heading_key(c) in ALIASES for c in r) for r in rows[:10])
    return 10.0 * (known if known > 1 else 0) + 5.0 * count / len(rows) + min(width, 10) / 10


def _quotes_close(path: Path, encoding: str, separator: str) -> bool:
    """Whether quotation marks in the file enclose cells; a stray one is then a character like any other."""
    try:
        for _ in records(path, encoding, separator):
            pass
    except Refused as problem:
        if "quotation mark" in str(problem):
            return False
        raise
    return True


def _heading_line(path: Path, encoding: str, separator: str, quotes: bool) -> int:
    first: list[Record] = list(islice(records(path, encoding, separator, quotes), 15))
    return next((record.line for record in first if is_header(record.cells)), 0)
