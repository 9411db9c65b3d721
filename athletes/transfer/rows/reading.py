"""A line as a whole: what is no data, who and when, then the sets."""

import re
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from ..cells.dates import numeric_parts, read_date
from ..cells.numbers import tidy
from ..columns import is_header_again
from ..notes import ASK, GUESS, SKIP, Note, Notes, reasons, settled, worst
from ..plan import ReadingPlan
from .context import Cells, Context
from .sets_of_row import sets_of

TOTALS = {
    *("total", "totals", "subtotal", "grand total", "sum", "summe", "gesamt", "totaal", "somme", "totale", "average"),
    *("avg", "mean", "durchschnitt", "moyenne", "media", "suma", "max", "best", "pr", "pb", "count"),
}
ONLY_NOISE = re.compile(r"[\s\-_=*#.,;:|/\\]*")


class Carry(NamedTuple):
    """What the lines above say for cells that are merged downwards; a blank line ends it."""

    date: str = ""
    lifter: str = ""
    lift: str = ""
    line: int = 0


class RowReading(NamedTuple):
    """What became of a line: status, reason, sets ready for the log, the questions it raises."""

    status: str
    reason: str
    sets: list[dict[str, object]]
    questions: tuple[tuple[str, str], ...]
    carry: Carry


def read_row(raw: Sequence[str], line: int, plan: ReadingPlan, carry: Carry) -> RowReading:
    """Read one line; everything it says or leaves open comes back, nothing is dropped without a reason."""
    cells = [tidy(c) for c in raw]
    idle = _no_data(cells, raw, plan)
    if idle:
        return RowReading("skip", idle, [], (), Carry() if not any(cells) else carry)
    if _only_a_date(cells, plan):
        return RowReading("skip", "a date for the lines below", [], (), carry._replace(date=cells[0], line=line))
    raw, joined = _joined_tail(list(raw), cells, plan)
    row = Cells(raw, plan)
    after = _carried(row, carry, line)
    context, notes = _who_and_when(row, plan, carry)
    notes += joined or _width(cells, plan)
    sets: list[dict[str, object]] = []
    if worst(notes) != SKIP:
        found, more = sets_of(row, context, plan)
        sets, notes = found, notes + more
    status = worst(notes)
    if status in ("ok", GUESS) and not sets:
        status, notes = SKIP, (*notes, Note(SKIP, "no set in this line"))
    keep = sets if status in ("ok", GUESS) else []
    asked = tuple({(n.question, n.subject): None for n in notes if n.question})
    return RowReading(status, reasons(notes), keep, asked, after)


def _no_data(cells: list[str], raw: Sequence[str], plan: ReadingPlan) -> str:
    if not any(cells):
        return "blank line"
    if all(ONLY_NOISE.fullmatch(c) for c in cells) and not any(f in ("result", "set", "reps") for f in plan.mapping):
        return "a ruled line, no data"
    first = next(c for c in cells if c)
    total = first.casefold().rstrip(":") in TOTALS or first.casefold().startswith(("total ", "summe ", "gesamt "))
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


def _only_a_date(cells: list[str], plan: ReadingPlan) -> bool:
    """A line of its own that dates the lines below it, in a file without a date column."""
    if "date" in plan.mapping or sum(map(bool, cells)) != 1 or not cells[0]:
        return False
    return read_date(cells[0], plan.dates).value is not None and not cells[0].isdigit()


def _carried(row: "Cells", carry: Carry, line: int) -> Carry:
    date, lifter, lift = row.first("date"), row.first("lifter"), row.first("lift")
    return Carry(date or carry.date, lifter or carry.lifter, lift or carry.lift, line if date else carry.line)


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


def _who_and_when(row: "Cells", plan: ReadingPlan, carry: Carry) -> tuple[Context, Notes]:
    day, notes = _when(row, plan, carry)
    athlete, more = _who(row, plan, carry)
    lift = row.first("lift")
    if not lift and carry.lift and "lift" in plan.mapping:
        lift, more = carry.lift, (*more, Note(GUESS, f"lift “{carry.lift[:30]}” taken from the line above"))
    return Context(day, athlete, lift), notes + more


def _when(row: "Cells", plan: ReadingPlan, carry: Carry) -> tuple[str, Notes]:
    typed, notes = row.first("date"), ()
    if not typed and any(f.startswith("on:") for f in plan.mapping):
        return "", ()
    if not typed and carry.date:
        typed, notes = carry.date, (Note(GUESS, f"date {carry.date} taken from line {carry.line}"),)
    if not typed:
        answered = plan.answer("file-date")
        if answered:
            return str(answered), (Note(GUESS, f"date {answered} as answered for the file", "file-date", "file"),)
        question = "" if "date" in plan.mapping else "file-date"
        return "", (Note(ASK, "no date", question, "file" if question else ""),)
    day = read_date(typed, plan.dates)
    return (day.value.isoformat() if day.value else ""), notes + day.notes + _order_settled(typed, plan)


def _order_settled(typed: str, plan: ReadingPlan) -> Notes:
    return settled("date-order") if plan.answer("date-order") and numeric_parts(typed) else ()


def _who(row: "Cells", plan: ReadingPlan, carry: Carry) -> tuple[int | None, Notes]:
    typed, notes = row.first("lifter"), ()
    if not typed and "lifter" in plan.mapping and carry.lifter:
        typed, notes = carry.lifter, (Note(GUESS, f"lifter “{carry.lifter[:40]}” taken from the line above"),)
    if typed:
        match = plan.people.match(typed, plan.answers)
        return match.pk, notes + match.notes
    athlete = plan.athlete or plan.answer("whose")
    if athlete is not None:
        return int(str(athlete)), () if plan.athlete else settled("whose")
    if "lifter" in plan.mapping:
        return None, (Note(ASK, "no lifter in this line"),)
    return None, (Note(ASK, "whose log is this?", "whose", "file"),)
