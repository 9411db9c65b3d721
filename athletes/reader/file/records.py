"""The records of a text table, one at a time, refused early where a file is not what it says."""

import csv
from collections.abc import Iterator
from itertools import islice, zip_longest
from pathlib import Path
from typing import NamedTuple

from athletes.reader.notes import LONGEST_CELL, LONGEST_LINE, MOST_COLUMNS, MOST_LINES_IN_A_CELL, MOST_ROWS, Refused

MOST = 60
NARROWEST = 2


def cuts_of(head: list[str]) -> list[int]:
    """Where the columns begin: after gaps of two spaces and more that every line has; empty when there are none."""
    lines = [line.rstrip() for line in head if "  " in line.strip()]
    if len(lines) < 2 or any("\t" in line for line in lines):
        return []
    width = max(map(len, lines))
    empty = [all(i >= len(line) or line[i] == " " for line in lines) for i in range(width)]
    cuts = [i for i in range(NARROWEST, width) if not empty[i] and all(empty[i - NARROWEST : i])]
    return cuts if cuts and len(cuts) <= MOST else []


def cells_of(line: str, cuts: list[int]) -> list[str]:
    """The cells of a line; a line that does not keep to the columns stays one cell."""
    line = line.rstrip("\r\n")
    if any(len(line) > cut and line[cut - 1] != " " for cut in cuts):
        return [line]
    ends = [*cuts[1:], len(line)] if cuts else []
    return [line[: cuts[0]].strip(), *(line[a:b].strip() for a, b in zip(cuts, ends, strict=True))]


MOST_TURNED = 300  # lines of a table whose headings stand in its first column
csv.field_size_limit(LONGEST_LINE)


class Record(NamedTuple):
    """A record and the line of the file on which it begins."""

    line: int
    cells: list[str]


def lines(path: Path, encoding: str) -> Iterator[str]:
    """Lines ended by any of \\n, \\r\\n, \\r; refused when one is longer than a log's line can be."""
    with path.open(encoding=encoding, errors="replace", newline="") as file:
        number, before = 0, ""
        while line := file.readline(LONGEST_LINE + 2):
            number += 1
            if len(line) > LONGEST_LINE:
                raise Refused(f"Line {number} goes on past column {LONGEST_LINE:,}: this is not a table of a log.")
            if number == 1:
                line = line.lstrip("\ufeff")
            if line == "\r\n" and before.endswith("\r"):  # "\r\r\n" is one end of a line, twice translated
                before = line
                continue
            before = line
            yield line.replace("\x00", "\ufffd")


def records(path: Path, encoding: str, separator: str, quotes: bool = True) -> Iterator[Record]:
    """Every record, blank ones too; `separator` "" keeps a whole line as one cell."""
    if not separator:
        yield from _whole_lines(path, encoding)
        return
    reader = csv.reader(
        lines(path, encoding), delimiter=separator, quoting=csv.QUOTE_MINIMAL if quotes else csv.QUOTE_NONE
    )
    begins, count = 1, 0
    while True:
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error as problem:
            raise Refused(f"Line {reader.line_num}: {problem}.") from None
        count += 1
        _check(cells, begins, reader.line_num, count)
        yield Record(begins, cells)
        begins = reader.line_num + 1


def _whole_lines(path: Path, encoding: str) -> Iterator[Record]:
    for number, line in enumerate(lines(path, encoding), 1):
        _check([line], number, number, number)
        yield Record(number, [line.rstrip("\r\n")])


def spaced(path: Path, encoding: str, cuts: list[int]) -> Iterator[Record]:
    """Records whose columns are lined up with spaces."""
    for number, line in enumerate(lines(path, encoding), 1):
        cells = cells_of(line, cuts)
        _check(cells, number, number, number)
        yield Record(number, cells)


def turned(source: Iterator[Record]) -> Iterator[Record]:
    """Records of a table whose headings stand in its first column: every column becomes a record."""
    rows = [record.cells for record in islice(source, MOST_TURNED + 1)]
    if len(rows) > MOST_TURNED:
        raise Refused(f"The headings stand in the first column, and there are more than {MOST_TURNED} lines.")
    for number, cells in enumerate(zip_longest(*rows, fillvalue=""), 1):
        yield Record(number, list(cells))


def _check(cells: list[str], begins: int, ends: int, count: int) -> None:
    if len(cells) > MOST_COLUMNS:
        raise Refused(f"Line {begins} has {len(cells):,} columns; a log has at most {MOST_COLUMNS}.")
    if count > MOST_ROWS:
        raise Refused(f"Line {begins}: more than {MOST_ROWS:,} lines. Split the file and import the parts.")
    for column, cell in enumerate(cells, 1):
        if len(cell) > LONGEST_CELL:
            raise Refused(
                f"Line {begins}, column {column}: a cell of {len(cell):,} characters. Is a quotation mark "
                f"left open there?"
            )
    if ends - begins > MOST_LINES_IN_A_CELL:
        raise Refused(f"Line {begins}: a quotation mark opened here is not closed within {MOST_LINES_IN_A_CELL} lines.")
