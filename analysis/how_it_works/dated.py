"""The tables that calibration scripts printed into docs/, read as they stand there with their date."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

FOLDER = Path(__file__).resolve().parents[2] / "docs"
_DATE = re.compile(r"\b20\d\d-\d\d-\d\d\b")


@dataclass(frozen=True, slots=True)
class DatedTable:
    """One table of a document: the line that introduces it, its head and its rows."""

    title: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class DatedTables:
    """What a document holds; `found` is False where the document is not installed."""

    name: str
    found: bool
    dated: str = ""
    tables: tuple[DatedTable, ...] = ()

    def with_head(self, *first: str) -> DatedTables:
        """Only the tables whose head begins with these words."""
        kept = tuple(t for t in self.tables if t.head[: len(first)] == first)
        return DatedTables(self.name, self.found, self.dated, kept)

    def titled(self, *words: str) -> DatedTables:
        """Only the tables whose introducing line holds one of these words."""
        kept = tuple(t for t in self.tables if any(word in t.title for word in words))
        return DatedTables(self.name, self.found, self.dated, kept)


def dated_tables(name: str, folder: Path = FOLDER) -> DatedTables:
    """The tables of docs/`name`; none when the file is not there."""
    path = folder / name
    if not path.is_file():
        return DatedTables(f"docs/{name}", found=False)
    text = path.read_text(encoding="utf-8")
    day = _DATE.search(text)
    return DatedTables(f"docs/{name}", True, day.group(0) if day else "", tuple(_tables(text.splitlines())))


def _tables(lines: list[str]) -> list[DatedTable]:
    found: list[DatedTable] = []
    title, block = "", list[str]()
    for line in [*lines, ""]:
        if line.startswith("|"):
            block.append(line)
            continue
        if len(block) > 2:
            found.append(DatedTable(title, _cells(block[0]), tuple(_cells(row) for row in block[2:])))
        block = []
        title = line.lstrip("# ").strip() or title
    return found


def _cells(line: str) -> tuple[str, ...]:
    return tuple(cell.strip() for cell in line.strip().strip("|").split("|"))
