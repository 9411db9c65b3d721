"""What the lines above say for the lines below: merged cells, and lines that hold only a date, a lifter or a lift."""

from typing import NamedTuple

from athletes.reader.cells.dates import read_date
from athletes.reader.cells.lifts import read_lift
from athletes.reader.plan import ReadingPlan
from athletes.reader.rows.context import Cells


class Carry(NamedTuple):
    """What the lines above say for cells that are merged downwards; a blank line ends it."""

    date: str = ""
    lifter: str = ""
    lift: str = ""
    line: int = 0


def lifter_of(row: Cells) -> str:
    """The lifter's name, from one column or from first and last name."""
    return " ".join(part for part in (row.first("lifter"), row.first("first"), row.first("last")) if part)


def carry_forward(row: Cells, carry: Carry, line: int) -> Carry:
    """The carry after a line."""
    date, lifter, lift = row.first("date"), lifter_of(row), row.first("lift")
    return Carry(date or carry.date, lifter or carry.lifter, lift or carry.lift, line if date else carry.line)


def for_the_lines_below(cells: list[str], line: int, plan: ReadingPlan, carry: Carry) -> tuple[str, Carry] | None:
    """A line with one cell that dates or names the lines below it, in a file without a column for that."""
    alone = [c for c in cells if c]
    if len(alone) != 1:
        return None
    text = alone[0].rstrip(":")
    if "date" not in plan.mapping and not text.isdigit() and read_date(text, plan.dates).value is not None:
        return "a date for the lines below", carry._replace(date=text, line=line)
    if (
        not {"lifter", "first", "last"} & set(plan.mapping)
        and plan.athlete is None
        and plan.people.match(text, plan.answers).pk is not None
    ):
        return "a lifter for the lines below", carry._replace(lifter=text)
    if "lift" not in plan.mapping and not any(":" in field for field in plan.mapping) and read_lift(text).known:
        return "a lift for the lines below", carry._replace(lift=text)
    return None
