"""A text table as lines that were read: each with its cells, its sets and readings, its standing and its questions."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import NamedTuple

from athletes.reader.cells.numbers import tidy
from athletes.reader.file.format import FileFormat
from athletes.reader.file.places import LINE_BREAK
from athletes.reader.file.records import Record
from athletes.reader.notes import SKIP
from athletes.reader.plan import ReadingPlan
from athletes.reader.rows.carry import Carry, for_the_lines_below
from athletes.reader.rows.reading import RowReading, read_row


@dataclass(frozen=True)
class Context:
    """How a table is read: plain data. `after` and `carry` continue a reading that stopped after that line."""

    plan: ReadingPlan
    made: FileFormat
    after: int = 0
    carry: Carry = field(default_factory=Carry)
    typed: Mapping[int, list[str]] = field(default_factory=dict)  # cells typed by hand that stand for a line's own
    from_workbook: bool = False


class Line(NamedTuple):
    """One line: its record, what was read of it, and what stood above it when it was read."""

    record: Record
    reading: RowReading
    carry: Carry


@dataclass(frozen=True)
class Table:
    """The lines of a table below `context.after`, without the heading line; each iteration reads the file anew."""

    source: Path
    context: Context

    def __iter__(self) -> Iterator[Line]:
        made, carry = self.context.made, self.context.carry
        for record in made.records(self.source):
            if record.line <= self.context.after or record.line == made.heading_line:
                continue
            if self.context.from_workbook:
                record = record._replace(cells=[cell.replace(LINE_BREAK, "\n") for cell in record.cells])
            reading = read_line(record, self.context.plan, made, carry, self.context.typed.get(record.line))
            yield Line(record, reading, carry)
            carry = reading.carry


def read(source: Path, context: Context) -> Table:
    """The lines of a text table, read by the plan and format of the context."""
    return Table(source, context)


def read_line(
    record: Record, plan: ReadingPlan, made: FileFormat, carry: Carry, typed: list[str] | None = None
) -> RowReading:
    """One record; `typed` cells stand for the cells of the file."""
    if record.line < made.heading_line:
        said = "the upper line of the headings" if record.line == made.heading_top else "above the headings"
        return RowReading(SKIP, said, [], (), _named_above(record, plan, carry))
    return read_row(record.cells if typed is None else typed, record.line, plan, carry)


def _named_above(record: Record, plan: ReadingPlan, carry: Carry) -> Carry:
    """A lifter or a day that stands alone above the headings holds for the lines below them."""
    found = for_the_lines_below([tidy(c) for c in record.cells], record.line, plan, carry)
    return found[1] if found and not found[1].lift else carry
