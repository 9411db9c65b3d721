"""What the columns of a text table hold: its headings, the field of each column and the unit its heading gives."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from athletes.reader.cells.lifts import names_a_lift
from athletes.reader.columns import map_by_content, map_header, merged_header, unit_of_column
from athletes.reader.file import FileFormat
from athletes.reader.headings import MEASURE_FIELDS

HEAD = 200  # lines that are looked at to tell what a column holds


class Columns(NamedTuple):
    """Headings, field of each column ("" where it is not taken), and the unit that the heading names."""

    headings: list[str]
    mapping: list[str]
    units: list[str]


def columns_of(path: Path, made: FileFormat, one_lifter: bool) -> Columns:
    """The columns of a table; `one_lifter` says that the whole file is about one, so no column names them."""
    head: list[list[str]] = []
    headings: list[str] = []
    top: list[str] = []
    for record in made.records(path):
        if record.line == made.heading_line:
            headings = merged_header(top, record.cells) if top else record.cells
        elif record.line == made.heading_top:
            top = record.cells
        elif record.line > made.heading_line:
            head.append(record.cells)
        if len(head) >= HEAD:
            break
    while headings and not headings[-1].strip():
        headings.pop()
    mapping = mapping_of(headings, head, one_lifter)
    return Columns(headings, mapping, units_of(headings, mapping))


def units_of(headings: list[str], mapping: list[str]) -> list[str]:
    """The unit that each heading gives its column."""
    return [unit_of_column(headings[i] if i < len(headings) else "", field) for i, field in enumerate(mapping)]


def mapping_of(headings: list[str], head: list[list[str]], one_lifter: bool) -> list[str]:
    """What the headings ask for; where they name nothing that is taken, what the cells look like."""
    if not headings:
        return map_by_content(head, one_lifter)
    mapping = map_header(headings, head)
    taken = {"load", "set", "reps", "arm", *MEASURE_FIELDS} & set(mapping)
    if taken or any(":" in field for field in mapping):
        return mapping
    guessed = map_by_content(head, one_lifter)
    told = [names_a_lift(h) for h in headings]  # a heading that names a lift and more is not understood, not silent
    return [own or (guessed[i] if i < len(guessed) and not told[i] else "") for i, own in enumerate(mapping)]
