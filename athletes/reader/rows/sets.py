"""The sets of one line: a load with its reps, whole sets in a cell, or one column per lift or day."""

from collections.abc import Iterable
from dataclasses import replace

from athletes.reader.cells.dates import Day, read_date
from athletes.reader.cells.effort import Effort, read_effort
from athletes.reader.cells.lifts import read_lift
from athletes.reader.cells.results import WORDS as RESULT_WORDS
from athletes.reader.cells.sets import SetText, read_reps, read_sets
from athletes.reader.content import is_scheme
from athletes.reader.notes import ASK, GUESS, SKIP, Note, Notes, settled, worst
from athletes.reader.plan import ReadingPlan
from athletes.reader.rows.closed import closed_columns
from athletes.reader.rows.context import AdjacentCells, Cells, Context
from athletes.reader.rows.loads import load_of
from athletes.reader.rows.outcome import outcome_of
from athletes.reader.rows.pairs import left_aside, listed, loads_with_reps, paired, times
from athletes.reader.rows.tags import tags_of

EMPTY = ("-", "–", "—", "x", "n/a", "rest", "off")
Text = tuple[SetText, str, Day, AdjacentCells]


def sets_of(row: Cells, context: Context, plan: ReadingPlan) -> tuple[list[dict[str, object]], Notes]:
    """Every set of the line as columns of the log, with the notes on how they were read."""
    found: list[dict[str, object]] = []
    notes: Notes = ()
    closed, more = closed_columns(row, plan)
    texts = list(_texts(row, context, plan))
    for one, lift, day, beside in texts:
        beside = beside._replace(note=row.first("note"))
        one = _answered(times(one, beside.sets, plan) if beside.sets and one.load is not None else one, plan)
        sets, said = _columns_of(one, lift, day, row, context, plan, closed, beside)
        found += sets
        notes += said + day.notes
    return found, notes + (more if texts else ())


def _texts(row: Cells, context: Context, plan: ReadingPlan) -> Iterable[Text]:
    """Set texts with the lift, the day and the cells that hold for each."""
    here = Day(None)
    loads = row.all("load")
    for column, one, beside in loads_with_reps(row, plan):
        unit = plan.units[column] if column < len(plan.units) and not row.first("unit") else ""
        yield replace(one, unit=one.unit or unit), context.lift, here, beside
    whole = AdjacentCells(*(row.first(kind) for kind in ("effort", "rir", "result", "tried", "sets")))
    for _, cell in row.all("set"):
        for one in listed(_joined(cell, row, plan, bool(loads))):
            yield one, context.lift, here, whole
    yield from _by_lift(row, plan)
    for field in [f for f in row.by_field if f.startswith("on:")]:
        for _, cell in row.all(field):
            for one in listed(_on_a_day(cell, row, plan)):
                yield one, context.lift, read_date(field[3:], plan.dates), whole
    if not loads and not row.all("set") and row.all("reps") and not any(":" in f for f in row.by_field):
        for one in read_sets(row.first("reps"), plan.decimal, plan.sets_first) or (read_reps(row.first("reps")),):
            yield one, context.lift, here, whole


def _on_a_day(cell: str, row: Cells, plan: ReadingPlan) -> list[SetText]:
    """The cell of a column called after a day: whole sets, or the load of the reps that the line names."""
    if cell.casefold() in EMPTY and len(row.by_field) > 1:
        return []
    return paired(cell, row.first("reps"), plan) if row.first("reps") else _joined(cell, row, plan, False)


def _by_lift(row: Cells, plan: ReadingPlan) -> Iterable[Text]:
    """Columns that are called after a lift, with the columns that say more about the same one."""
    names = dict.fromkeys(f.partition(":")[2] for f in row.by_field if ":" in f and not f.startswith("on:"))
    for name in names:
        attempts = len(row.columns(f"lift:{name}")) > 1
        for column, one, beside in loads_with_reps(row, plan, name):
            if row.at(column).casefold() in EMPTY and len(row.by_field) > 1:
                continue
            unit = plan.units[column] if column < len(plan.units) else ""
            yield replace(one, unit=one.unit or unit, single=one.single or attempts), name, Day(None), beside


def _joined(cell: str, row: Cells, plan: ReadingPlan, load_elsewhere: bool) -> list[SetText]:
    """Sets written in one cell; with a load column beside it the cell gives sets and reps only."""
    cell, aside = left_aside(cell)
    if not cell:
        return [SetText(notes=aside)]
    if load_elsewhere:
        own = any(one.load is not None and one.reps is not None for one in read_sets(cell, plan.decimal))
        clash = Note(ASK, f"“{cell[:30]}” has a load of its own beside the column of loads: which one holds?")
        return [SetText(notes=(clash,))] if own and not is_scheme(cell) else []
    if cell.casefold() in EMPTY and len(row.by_field) > 1:
        return []
    return [replace(s, notes=s.notes + aside) for s in read_sets(cell, plan.decimal, plan.sets_first)]


def _answered(one: SetText, plan: ReadingPlan) -> SetText:
    """ "5x180" as five times 180 where that was answered for the file."""
    if one.note == "times-load" and plan.answer("times-load") == "sets" and one.reps:
        return replace(one, count=one.reps, reps=1)
    return one


def _columns_of(
    one: SetText, lift: str, day: Day, row: Cells, context: Context, plan: ReadingPlan, closed: dict[str, object],
    beside: AdjacentCells,
) -> tuple[list[dict[str, object]], Notes]:  # fmt: skip
    tags, notes = tags_of(lift, row, plan)
    load, said = load_of(one, row, context, plan)
    outcome, more = outcome_of(one, beside, plan)
    notes += said + more + still_open(one.notes, plan)
    on = day.value.isoformat() if day.value else context.day
    if not on or context.athlete is None or worst(notes + day.notes) in (ASK, SKIP):
        return [], tuple(n for n in notes if n.reason != NO_REPS.reason) if worst(notes) == ASK else notes
    effort = one.effort if one.effort.typed else _effort(beside)
    columns = {"athlete": context.athlete, "day": on, **tags, **load, **outcome, **dict(one.tags), **closed}
    if effort.typed:
        columns |= {"effort_typed": effort.typed, "rir_low": effort.rir_low, "rir_high": effort.rir_high}
    said_too = (tags.get("note"), load.pop("note", ""), one.words, row.first("note"))
    note = "; ".join(dict.fromkeys(str(n) for n in said_too if n))
    columns["note"] = note[:400]
    if len(note) > 400:
        notes += (Note(GUESS, "the note is cut to 400 letters"),)
    return [dict(columns) for _ in range(one.count)], notes + effort.notes


def _effort(beside: AdjacentCells) -> Effort:
    return read_effort(beside.rir, as_rir=True) if beside.rir else read_effort(beside.effort)


def still_open(notes: Notes, plan: ReadingPlan) -> Notes:
    """The notes, where an answer for the file has settled one only its question."""
    return tuple(
        note
        if not note.question or plan.answer(note.question, note.subject) is None
        else settled(note.question, note.subject)[0]
        for note in notes
    )


NO_REPS = Note(GUESS, "no reps: taken as a single")
KNOWN_RESULTS = frozenset(RESULT_WORDS.values())
__all__ = ["KNOWN_RESULTS", "SKIP", "read_lift", "sets_of", "still_open"]
