"""The sets of one line: a load with its reps, whole sets in a cell, or one column per lift or day."""

import re
from collections.abc import Iterable
from dataclasses import replace

from ...loads import canonical
from ..cells.dates import read_date
from ..cells.effort import read_effort
from ..cells.lifts import ESTIMATE, read_lift
from ..cells.numbers import read_number
from ..cells.results import WORDS as RESULT_WORDS
from ..cells.sets import SetText, read_reps, read_sets
from ..notes import ASK, GUESS, SKIP, Note, Notes, settled, worst
from ..plan import ReadingPlan
from .closed import closed_columns
from .context import Cells, Context
from .outcome import outcome_of
from .tags import tags_of

SCHEME = re.compile(r"\d{1,2}\s*[x×X*]\s*\d{1,2}")
TYPED_ESTIMATE = ("e", "(est", "est.", "calc")


def sets_of(row: Cells, context: Context, plan: ReadingPlan) -> tuple[list[dict[str, object]], Notes]:
    """Every set of the line as columns of the log, with the notes on how they were read."""
    found: list[dict[str, object]] = []
    notes: Notes = ()
    closed, more = closed_columns(row, plan)
    for one, lift, day in _texts(row, context, plan):
        sets, said = _columns_of(one, lift, day, row, context, plan, closed)
        found += sets
        notes += said
    return found, notes + more


def _texts(row: Cells, context: Context, plan: ReadingPlan) -> Iterable[tuple[SetText, str, str]]:
    """Set texts with the lift and day that hold for each."""
    loads, reps = row.all("load"), row.all("reps") or _schemes(row)
    for at, (column, cell) in enumerate(loads):
        unit = plan.units[column] if column < len(plan.units) else ""
        rep = reps[at][1] if len(reps) > at and (len(loads) > 1 or len(reps) == 1) else ""
        unit = unit if not row.first("unit") else ""
        for one in _paired(cell, rep, row, plan):
            yield (replace(one, unit=one.unit or unit), context.lift, context.day)
    for _, cell in row.all("set"):
        for one in _joined(cell, row, plan, bool(loads)):
            yield one, context.lift, context.day
    for field in row.by_field:
        kind, _, name = field.partition(":")
        if kind in ("lift", "on") and name:
            day = _day_of(name, plan) if kind == "on" else context.day
            for column, cell in row.all(field):
                unit = plan.units[column] if column < len(plan.units) else ""
                for one in _joined(cell, row, plan, False):
                    yield replace(one, unit=one.unit or unit), name if kind == "lift" else context.lift, day
    if not loads and not row.all("set") and reps and not any(":" in f for f in row.by_field):
        yield from ((one, context.lift, context.day) for one in read_sets(reps[0][1], plan.decimal, plan.sets_first))


def _schemes(row: Cells) -> list[tuple[int, str]]:
    """Cells such as "3x5" in a column of sets, which beside a column of loads say sets and reps."""
    return [(column, cell) for column, cell in row.all("set") if SCHEME.fullmatch(cell)]


def _day_of(name: str, plan: ReadingPlan) -> str:
    day = read_date(name, plan.dates)
    return day.value.isoformat() if day.value else ""


def _estimate(cell: str) -> bool:
    low = cell.casefold()
    return bool(ESTIMATE.search(low)) or "(est" in low or (low[:1] == "e" and low[1:2].isdigit())


def _paired(cell: str, reps: str, row: Cells, plan: ReadingPlan) -> list[SetText]:
    """A load cell with the reps, sets and effort of its line."""
    if _estimate(cell):
        return [SetText(notes=(Note(SKIP, f"“{cell[:30]}”: an estimate is not a lift"),))]
    read = list(read_sets(cell, plan.decimal, plan.sets_first))
    if len(read) != 1:
        return read
    one = read[0]
    if reps:
        counted = read_reps(reps, plan.decimal, plan.sets_first)
        one = replace(
            one, reps=counted.reps, made=counted.made, missed=one.missed or counted.missed,
            count=max(one.count, counted.count), notes=one.notes + counted.notes,
        )  # fmt: skip
    if one.percent and one.load is not None:
        one = replace(one, notes=tuple(n for n in one.notes if one.percent not in n.reason))
    times = row.first("sets")
    return [_times(one, times, plan)] if times else [one]


def _times(one: SetText, typed: str, plan: ReadingPlan) -> SetText:
    number = read_number(typed, plan.decimal).value
    if number is None or number != int(number) or not 1 <= number <= 30:
        scheme = read_reps(typed, plan.decimal, plan.sets_first)
        if scheme.count > 1 and scheme.reps and one.reps is None:
            return replace(one, count=scheme.count, reps=scheme.reps, notes=one.notes + scheme.notes)
        return replace(one, notes=(*one.notes, Note(ASK, f"“{typed[:20]}” is not a number of sets")))
    return replace(one, count=int(number))


def _joined(cell: str, row: Cells, plan: ReadingPlan, load_elsewhere: bool) -> list[SetText]:
    """Sets written in one cell; with a load column beside it the cell gives sets and reps only."""
    if _estimate(cell):
        return [SetText(notes=(Note(SKIP, f"“{cell[:30]}”: an estimate is not a lift"),))]
    if load_elsewhere:
        own = any(one.load is not None and one.reps is not None for one in read_sets(cell, plan.decimal))
        clash = Note(ASK, f"“{cell[:30]}” has a load of its own beside the column of loads: which one holds?")
        return [SetText(notes=(clash,))] if own and not SCHEME.fullmatch(cell) else []
    if cell.casefold() in ("-", "–", "—", "x", "n/a", "rest", "off") and len(row.by_field) > 1:
        return []
    return list(read_sets(cell, plan.decimal, plan.sets_first))


def _columns_of(
    one: SetText, lift: str, day: str, row: Cells, context: Context, plan: ReadingPlan, closed: dict[str, object]
) -> tuple[list[dict[str, object]], Notes]:
    tags, notes = tags_of(lift, row, plan)
    load, said = _load(one, row, context, plan)
    outcome, more = outcome_of(one, row, plan)
    notes += said + more + _still_open(one.notes, plan)
    if not day or context.athlete is None or worst(notes) in (ASK, SKIP):
        return [], notes
    effort = one.effort if one.effort.typed else _effort(row)
    columns = {"athlete": context.athlete, "day": day, **tags, **load, **outcome, **closed}
    if effort.typed:
        columns |= {"effort_typed": effort.typed, "rir_low": effort.rir_low, "rir_high": effort.rir_high}
    note = "; ".join(dict.fromkeys(str(n) for n in (tags.get("note"), load.pop("note", ""), row.first("note")) if n))
    columns["note"] = note[:400]
    if len(note) > 400:
        notes += (Note(GUESS, "the note is cut to 400 letters"),)
    return [dict(columns) for _ in range(one.count)], notes + effort.notes


def _effort(row: Cells):  # noqa: ANN202
    return read_effort(row.first("rir"), as_rir=True) if row.first("rir") else read_effort(row.first("effort"))


def _still_open(notes: Notes, plan: ReadingPlan) -> Notes:
    """The notes, where an answer for the file has settled one only its question."""
    return tuple(
        note
        if not note.question or plan.answer(note.question, note.subject) is None
        else settled(note.question, note.subject)[0]
        for note in notes
    )


def _load(one: SetText, row: Cells, context: Context, plan: ReadingPlan) -> tuple[dict[str, object], Notes]:
    if one.plates is not None:
        return _plates(one, plan)
    if one.load is None:
        silent = any(n.level in (ASK, SKIP) for n in one.notes)
        return {}, () if silent else (Note(ASK, "no load"),)
    unit, notes = _unit(one, row, context, plan)
    value = abs(one.load)
    kg = canonical(value, unit)
    if value == 0:
        return {}, (Note(ASK, "a load of 0: type the load, or skip the line"),)
    if kg > 700:
        return {}, (Note(ASK, f"{one.load_typed} {unit} is more than 700 kg: check number, unit and decimal mark"),)
    if kg > 500:
        notes += (Note(GUESS, f"{one.load_typed} {unit} is more than anybody has pulled: check it"),)
    typed = one.load_typed.lstrip("-+").strip()
    if typed.count(".") + typed.count(",") > 1 or " " in typed or abs(_as_plain(typed) - value) > 1e-9:
        typed = f"{value:g}"
    return {"load_typed": typed, "load_unit": unit, "load_kg": kg}, notes


def _as_plain(typed: str) -> float:
    try:
        return float(typed.replace(",", "."))
    except ValueError:
        return float("nan")


def _unit(one: SetText, row: Cells, context: Context, plan: ReadingPlan) -> tuple[str, Notes]:
    """The unit beside the number, else of its line, its heading, the file, and last the one the lifter uses."""
    if one.unit:
        return one.unit, ()
    said = row.first("unit").casefold().rstrip(".")
    if said:
        known = "kg" if said in KILOGRAMS else "lb" if said in POUNDS else ""
        return known or "kg", () if known else (Note(ASK, f"“{said[:20]}” is neither kg nor lb"),)
    answered = plan.answer("unit")
    if answered:
        return str(answered), settled("unit")
    used = plan.people.unit_of(context.athlete) if context.athlete else "kg"
    if plan.unit_in_doubt:
        return used, (Note(ASK, f"{one.load_typed}: kg or lb? The file does not say", "unit", "file"),)
    return used, (Note(GUESS, f"no unit in the file: {used}, as the lifter uses", "unit", "file"),)


def _plates(one: SetText, plan: ReadingPlan) -> tuple[dict[str, object], Notes]:
    answered = plan.answer("plates")
    if not answered:
        return {}, ()
    bar, plate, unit = str(answered).split("-")
    count, extra = one.plates or (0.0, 0.0)
    value = float(bar) + 2 * (count * float(plate) + extra)
    note = Note(GUESS, f"“{one.load_typed}” is {value:g} {unit} with a {bar} {unit} bar", "plates", "file")
    load = {"load_typed": f"{value:g}", "load_unit": unit, "load_kg": canonical(value, unit), "note": one.load_typed}
    return load, (note,)


KILOGRAMS = {"kg", "kgs", "kilo", "kilos", "kilogram", "kilograms", "k", "公斤", "кг"}
POUNDS = {"lb", "lbs", "pound", "pounds", "#", "libras", "pfund"}
KNOWN_RESULTS = frozenset(RESULT_WORDS.values())
__all__ = ["KNOWN_RESULTS", "read_lift", "sets_of"]
