"""A line as a whole: what is no data, who and when, then the sets."""

import re
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from athletes.reader.cells.dates import read_date
from athletes.reader.cells.numbers import tidy
from athletes.reader.columns import is_header_again
from athletes.reader.notes import ASK, GUESS, SKIP, Note, Notes, reasons, worst
from athletes.reader.plan import ReadingPlan
from athletes.reader.rows.carry import Carry, carry_forward, for_the_lines_below
from athletes.reader.rows.context import Cells, blocks_of
from athletes.reader.rows.parts import Part, apart, filled, read_part
from athletes.reader.rows.tags import with_column

TOTALS = {
    *("total", "totals", "subtotal", "grand total", "sum", "summe", "gesamt", "totaal", "somme", "totale", "average"),
    *("avg", "mean", "durchschnitt", "moyenne", "media", "suma", "max", "best", "pr", "pb", "count"),
}
TOTAL_STARTS = ("total ", "summe ", "gesamt ", "sum of ", "average ", "mean of ")
RULE = re.compile(r"[-=_*~+:|]{3,}")
ONLY_NOISE = re.compile(r"[\s\-_=*#.,;:|/\\]*")


class RowReading(NamedTuple):
    """What became of a line: status, reason, sets ready for the log, the questions it raises."""

    status: str
    reason: str
    sets: list[dict[str, object]]
    questions: tuple[tuple[str, str], ...]
    carry: Carry
    measures: Sequence[dict[str, object]] = ()


def read_row(raw: Sequence[str], line: int, plan: ReadingPlan, carry: Carry) -> RowReading:
    """Read one line; everything it says or leaves open comes back, nothing is dropped without a reason."""
    cells = [tidy(c) for c in raw]
    idle = _no_data(cells, raw, plan)
    if idle:
        return RowReading("skip", idle, [], (), Carry() if not any(cells) else carry)
    above = for_the_lines_below(cells, line, plan, carry)
    if above:
        return RowReading("skip", above[0], [], (), above[1])
    raw, joined = _joined_tail(list(raw), cells, plan)
    notes = joined or _width(cells, plan)
    blocks = blocks_of(plan.mapping)
    full = [columns for columns in blocks if len(blocks) == 1 or filled(raw, plan, columns, blocks)] or blocks[:1]
    parts = [
        read_part(Cells(raw, plan, columns), plan, carry if columns == blocks[0] else apart(carry, plan))
        for columns in full
    ]
    notes = with_column(sum((part.notes for part in parts), notes), raw, plan)
    return _whole(parts, notes, carry_forward(Cells(raw, plan, blocks[0]), carry, line))


def _whole(parts: list[Part], notes: Notes, after: Carry) -> RowReading:
    """The line from its parts: the gravest of them says what becomes of all."""
    sets = [one for part in parts for one in part.sets]
    measures = [one for part in parts for one in part.measures]
    status = worst(notes)
    if status in ("ok", GUESS) and not sets and not measures:
        status, notes = SKIP, (*notes, Note(SKIP, "no set in this line"))
    if status not in ("ok", GUESS):
        sets, measures = [], []
    asked = tuple({(n.question, n.subject): None for n in notes if n.question})
    return RowReading(status, reasons(notes), sets, asked, after, measures)


def _no_data(cells: list[str], raw: Sequence[str], plan: ReadingPlan) -> str:
    if not any(cells):
        return "blank line"
    if all(ONLY_NOISE.fullmatch(c) for c in cells) and not any(f in ("result", "set", "reps") for f in plan.mapping):
        return "a ruled line, no data"
    if all(RULE.fullmatch(c) for c in cells if c):
        return "a ruled line, no data"
    first = next(c for c in cells if c)
    total = first.casefold().rstrip(":") in TOTALS or first.casefold().startswith(TOTAL_STARTS)
    if total and not any(_is_day(cells, i, plan) for i, field in enumerate(plan.mapping) if field == "date"):
        return "a total or summary, not a set"
    if plan.headings and [c.casefold() for c in cells if c] == [tidy(h).casefold() for h in plan.headings if tidy(h)]:
        return "the heading line again"
    if is_header_again(cells):
        return "a heading line"
    return ""


def _is_day(cells: list[str], column: int, plan: ReadingPlan) -> bool:
    """Whether the line has a date of its own: then a word such as "Max" is a name, not a summary."""
    return column < len(cells) and read_date(cells[column], plan.dates).value is not None


def _cut_number(cells: list[str]) -> str:
    """Two neighbouring cells that look like one number cut at its decimal comma."""
    for left, right in pairwise(cells):
        if re.fullmatch(r"\d{2,3}", left) and re.fullmatch(r"\d{1,2}", right):
            return f"{left},{right}"
    return ""


def _joined_tail(raw: list[str], cells: list[str], plan: ReadingPlan) -> tuple[list[str], Notes]:
    """Put a note, or a list of sets, that was cut at its own commas together again; nothing else is ever moved."""
    width = len(plan.mapping)
    extra = [c for c in cells[width:] if c]
    last = plan.mapping[-1] if plan.mapping else ""
    sets = last == "set" and all(re.search(r"\d\s*[x×@]\s*\d", c) for c in extra)
    note = last == "note" and not _cut_number(cells)
    if not extra or not (sets or note):
        return raw, ()
    said = f"{len(extra) + 1} cells joined to one {'list of sets' if sets else 'note'}"
    return [*raw[: width - 1], ", ".join([cells[width - 1], *extra])], (Note(GUESS, said),)


def _width(cells: list[str], plan: ReadingPlan) -> Notes:
    if not any(cells[len(plan.mapping) :]):
        return ()
    said = f"{len(cells)} cells where the heading has {len(plan.mapping)}"
    cut = _cut_number(cells)
    return (Note(ASK, f"{said}: perhaps {cut} was cut in two at its comma" if cut else said),)
