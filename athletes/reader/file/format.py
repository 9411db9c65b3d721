"""How a text table is written: encoding, separator, quotation marks, and which line holds the headings."""

import csv
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass, field, replace
from itertools import islice
from pathlib import Path

from athletes.reader.columns import ALIASES, UNIT_WORDS, heading_key, is_header, is_second_header, unit_word
from athletes.reader.file.encodings import detect_encoding, refuse_other_text
from athletes.reader.file.records import Record, cells_of, cuts_of, lines, records, spaced, turned
from athletes.reader.notes import Refused

SPACES = "spaces"
SEPARATORS = {
    ",": "comma", ";": "semicolon", "\t": "tab", "|": "upright bar", SPACES: "columns lined up with spaces",
    "": "none: one cell a line",
}  # fmt: skip
HEAD = 200
NOISE = frozenset(chr(i) for i in range(32) if chr(i) not in "\t\n\r\f\x0b") | {"\ufffd", "\x7f"}


@dataclass(frozen=True)
class FileFormat:
    """How the file is read; `heading_line` 0 says that it has no headings, `heading_top` is the upper line of two.

    `cuts` are the columns of a list lined up with spaces; `is_turned` says that headings stand in the first column.
    """

    encoding: str
    separator: str
    quotes: bool = True
    heading_line: int = 0
    heading_top: int = 0
    cuts: list[int] = field(default_factory=list)
    is_turned: bool = False

    def as_json(self) -> dict[str, object]:
        """The format as it is kept with an import."""
        return asdict(self)

    def records(self, path: Path) -> Iterator[Record]:
        """Every record of a file of this format."""
        if self.separator == SPACES:
            source = spaced(path, self.encoding, list(self.cuts))
        else:
            source = records(path, self.encoding, self.separator, self.quotes)
        return turned(source) if self.is_turned else source


def detect_format(path: Path, encoding: str = "", separator: str | None = None) -> FileFormat:
    """The format of a file; what is given is kept, the rest is found out."""
    encoding = encoding or detect_encoding(path)
    head = list(islice(lines(path, encoding), HEAD))
    if not any(line.strip() for line in head):
        raise Refused("The file is empty.")
    refuse_other_text(head)
    _refuse_noise(head)
    announced = head[0].strip().lower()
    if separator is None and announced.startswith("sep=") and len(announced) == 5:
        separator = announced[4]
    if separator is None:
        separator = best_separator(head) or (SPACES if len(_spaced_header(head)) > 1 else "")
    cuts = cuts_of(head) if separator == SPACES else []
    made = FileFormat(encoding, separator, cuts=cuts)
    made = replace(made, quotes=separator == SPACES or _quotes_close(path, encoding, separator))
    return _with_headings(made, path)


def _spaced_header(head: list[str]) -> list[str]:
    """The headings of a list lined up with spaces, empty when there are none."""
    cuts = cuts_of(head)
    rows = [cells_of(line, cuts) for line in head[:15]] if cuts else []
    return next((row for row in rows if is_header(row)), [])


def _with_headings(made: FileFormat, path: Path) -> FileFormat:
    """The lines that hold the headings, or the first column when they stand there."""
    first = list(islice(made.records(path), 15))
    turned_over = _headings_down(first)
    if turned_over:
        return replace(made, is_turned=True, heading_line=turned_over)
    at = next((i for i, record in enumerate(first) if is_header(record.cells)), None)
    if at is None:
        return made
    under = next((r for r in first[at + 1 :] if any(c.strip() for c in r.cells)), None)
    if under is not None and is_second_header(under.cells) and _adds_to(first[at].cells, under.cells):
        return replace(made, heading_line=under.line, heading_top=first[at].line)
    return replace(made, heading_line=first[at].line)


def _adds_to(top: list[str], under: list[str]) -> bool:
    """Whether a second line of headings says what the first leaves open, or units, and is not the first line again."""
    pairs = [(top[i].strip() if i < len(top) else "", cell.strip()) for i, cell in enumerate(under) if cell.strip()]
    return any(not own or heading_key(cell) in UNIT_WORDS or unit_word(cell) for own, cell in pairs)


def _headings_down(first: list[Record]) -> int:
    """The column (from 1) whose cells are headings, three different ones at least, where no line holds as many."""
    across = max((len(_headings(record.cells)) for record in first), default=0)
    for column in range(2):
        down = _headings([r.cells[column] for r in first if column < len(r.cells)])
        if len(down) >= 3 and across <= 1 and "date" in down:
            return column + 1
    return 0


def _headings(cells: Sequence[str]) -> set[str]:
    return {ALIASES[key] for key in map(heading_key, cells) if key in ALIASES and key not in UNIT_WORDS}


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
    scores = {sep: _score(head, sep) for sep in SEPARATORS if sep and sep != SPACES}
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
    last = Record(0, [])
    try:
        for record in records(path, encoding, separator):
            last = record
    except Refused as problem:
        if "quotation mark" in str(problem):
            return False
        raise
    return not (last.cells and last.cells[-1].endswith(("\n", "\r")))  # else the last mark swallowed the rest
