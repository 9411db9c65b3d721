"""One table's part of a line: who and when, then its sets."""

from collections.abc import Sequence
from typing import NamedTuple

from athletes.reader.cells.dates import numeric_parts, read_date
from athletes.reader.notes import ASK, GUESS, SKIP, Note, Notes, left_out, settled, worst
from athletes.reader.plan import ReadingPlan
from athletes.reader.rows.carry import Carry, lifter_of
from athletes.reader.rows.context import Cells, Context, unguarded
from athletes.reader.rows.measures import measures_of
from athletes.reader.rows.sets import sets_of

TEXTS = ("note", "bar", "lifter", "lift")
HOLD_SETS = ("load", "set", "reps")


class Part(NamedTuple):
    """What one table of a line says: sets of the log, measures of a body with whose and when, and all remarks."""

    sets: list[dict[str, object]]
    notes: Notes
    measures: list[dict[str, object]]


def filled(raw: Sequence[str], plan: ReadingPlan, columns: frozenset[int], blocks: Sequence[frozenset[int]]) -> bool:
    """Whether a table side by side with others has anything in this line."""
    own = columns - frozenset.intersection(*blocks)
    return any(i < len(raw) and raw[i].strip() and plan.mapping[i] for i in own)


def apart(carry: Carry, plan: ReadingPlan) -> Carry:
    """What the lines above say for a second table: nothing that stands in columns of its own."""
    return Carry(
        "" if "date" in plan.mapping else carry.date,
        "" if "lifter" in plan.mapping else carry.lifter,
        "" if "lift" in plan.mapping else carry.lift,
        carry.line,
    )


def read_part(row: Cells, plan: ReadingPlan, carry: Carry) -> Part:
    """Read one table's part of a line."""
    context, notes = _who_and_when(row, plan, carry)
    notes += _formulas(row)
    if worst(notes) == SKIP:
        return Part([], notes, [])
    sets, of_sets = sets_of(row, context, plan)
    measures, of_measures = measures_of(row, context, plan)
    if worst(of_sets) == SKIP and (measures or worst(of_measures) == ASK):
        of_sets = left_out(of_sets)
    if worst(of_measures) == SKIP and (sets or measures or worst(of_sets) == ASK):
        of_measures = left_out(of_measures)
    found = [{"athlete": context.athlete, "day": context.day, **one} for one in measures]
    return Part(sets, notes + of_sets + of_measures, found)


def _formulas(row: Cells) -> Notes:
    """A formula whose result the file does not hold is no number; in a note it is text."""
    columns = [i for field, found in row.by_field.items() if field not in TEXTS for i, _ in found]
    found = [cell for i in columns if (cell := row.raw[i].strip()).startswith("=") and unguarded(cell) == cell]
    return tuple(Note(ASK, f"“{cell[:30]}” is a formula without its result: type the result") for cell in found)


def _who_and_when(row: Cells, plan: ReadingPlan, carry: Carry) -> tuple[Context, Notes]:
    day, notes = _when(row, plan, carry)
    athlete, more = _who(row, plan, carry)
    lift = row.first("lift")
    lifting = any(field in HOLD_SETS or ":" in field for field in row.by_field)
    if not lift and carry.lift and lifting and not any(":" in f and not f.startswith("on:") for f in row.by_field):
        lift, more = carry.lift, (*more, Note(GUESS, f"lift “{carry.lift[:30]}” taken from the line above"))
    return Context(day, athlete, lift), notes + more


def _when(row: Cells, plan: ReadingPlan, carry: Carry) -> tuple[str, Notes]:
    notes: Notes = ()
    typed = row.first("date")
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


def _who(row: Cells, plan: ReadingPlan, carry: Carry) -> tuple[int | None, Notes]:
    notes: Notes = ()
    typed = lifter_of(row)
    if not typed and carry.lifter:
        typed, notes = carry.lifter, (Note(GUESS, f"lifter “{carry.lifter[:40]}” taken from the line above"),)
    if typed:
        match = plan.people.match(typed, plan.answers)
        return match.pk, notes + match.notes
    athlete = plan.athlete or plan.answer("whose")
    if athlete is not None:
        return int(str(athlete)), () if plan.athlete else settled("whose")
    if {"lifter", "first", "last"} & set(plan.mapping):
        return None, (Note(ASK, "no lifter in this line"),)
    return None, (Note(ASK, "whose log is this?", "whose", "file"),)
