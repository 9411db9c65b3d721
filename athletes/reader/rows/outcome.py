"""Made or missed, and how many reps of how many."""

import re

from athletes.reader.cells.numbers import read_number
from athletes.reader.cells.results import read_result
from athletes.reader.cells.set_words import MISS
from athletes.reader.cells.sets import SetText
from athletes.reader.notes import ASK, GUESS, SKIP, Note, Notes, settled
from athletes.reader.plan import ReadingPlan
from athletes.reader.rows.context import AdjacentCells

MISS_TOLD = re.compile(rf"\s*(?:{MISS}|f)(?![^\W\d_])", re.I)
OPEN_MARKS = ("cut-off", "dash", "brackets")  # what the file says about each is asked once
Outcome = tuple[dict[str, object], Notes]


def outcome_of(one: SetText, beside: AdjacentCells, plan: ReadingPlan) -> Outcome:
    """Result, reps made and reps tried of a set from its text, the result column and the answers."""
    result, notes = _result(one, beside.result, plan)
    tried = _tried(beside.tried, plan)
    made = one.made if one.made is not None else one.reps
    if tried is not None and made is not None:
        return _as_logged(made, tried, result, notes)
    if one.note == "zero" and not beside.result:
        notes += (Note(GUESS, "0 reps: read as a missed single"),)
    reps = one.reps
    if reps is None:
        reps = 1
        if one.load is not None and not one.single and not one.missed and result == "made" and one.load >= 0:
            notes += (Note(GUESS, "no reps: taken as a single"),)
    if result == "made" and not one.missed and not beside.result and not one.result:
        result, told = result_from_note(beside.note, plan)
        notes += told
    if result == "made" and not one.missed:
        return _checked(reps, reps, "made", notes)
    if result in ("no-lift", "not-tried"):
        return _checked(0, reps, result, notes)
    result = "missed" if result == "made" else result
    if one.count > 1 and not (one.made == 0 and reps == 1):
        return {}, (*notes, Note(ASK, f"{one.count} sets with a miss: which one was it?"))
    if one.made is not None:
        return _checked(one.made, reps, result, notes)
    counts, more = _missed_reps(reps, plan)
    return _checked(*counts, result, notes + more)


def result_from_note(note: str, plan: ReadingPlan) -> tuple[str, Notes]:
    """A note that begins with a word for a miss, where nothing else says how the lift went."""
    if not note or not MISS_TOLD.match(note):
        return "made", ()
    answered = plan.answer("note-miss")
    if answered:
        return str(answered), settled("note-miss")
    return "made", (Note(ASK, f"the note says “{note[:30]}”: made or missed?", "note-miss", "file"),)


def _result(one: SetText, word: str, plan: ReadingPlan) -> tuple[str, Notes]:
    if one.load is not None and one.load < 0:
        return _minus(one, plan)
    if one.note in OPEN_MARKS:
        answered = plan.answer(one.note)
        return ("missed" if answered == "missed" else "made"), ()
    if not word:
        return (one.result or ("missed" if one.missed else "made")), ()
    found = read_result(word)
    if not found.notes:
        return _both(one, found.value, word)
    answered = plan.answer(found.notes[0].question, found.notes[0].subject)
    if answered == "leave-out":
        return "made", (Note(SKIP, f"result “{word[:30]}” left out, as answered", *found.notes[0][2:]),)
    return (str(answered), settled(*found.notes[0][2:])) if answered else ("made", found.notes)


def _both(one: SetText, said: str, word: str) -> tuple[str, Notes]:
    """The result of its column, which must not say anything else than the load's own cell."""
    own = one.result or ("missed" if one.missed else "")
    if (own == "made" and said != "made") or (own in ("missed", "no-lift") and said == "made"):
        return said, (
            Note(ASK, f"marked as {own.replace('-', ' ')}, and “{word[:20]}” as its result: which one holds?"),
        )
    return said, ()


def _minus(one: SetText, plan: ReadingPlan) -> tuple[str, Notes]:
    answered = plan.answer("minus")
    if answered in ("made", "missed"):
        return str(answered), settled("minus")
    return "missed", (Note(GUESS, f"“{one.load_typed}” read as a missed attempt", "minus", "file"),)


def _tried(typed: str, plan: ReadingPlan) -> int | None:
    if not typed:
        return None
    number = read_number(typed, plan.decimal).value
    return int(number) if number is not None and number == int(number) else -1


def _as_logged(made: int, tried: int, result: str, notes: Notes) -> Outcome:
    if tried < made:
        return {}, (*notes, Note(ASK, f"{made} reps made of {tried} tried cannot be"))
    if made < tried and result == "made":
        result, notes = "missed", (*notes, Note(GUESS, f"{made} made of {tried} tried: missed"))
    return _checked(made, tried, result, notes)


def _missed_reps(reps: int, plan: ReadingPlan) -> tuple[tuple[int, int], Notes]:
    if reps <= 1:
        return (0, 1), ()
    answered = plan.answer("missed-reps")
    if answered == "none":
        return (0, reps), settled("missed-reps")
    if answered == "one-more":
        return (reps, reps + 1), settled("missed-reps")
    note = Note(GUESS, f"missed with {reps} reps: read as {reps - 1} made of {reps}", "missed-reps", "file")
    return (reps - 1, reps), settled("missed-reps") if answered else (note,)


def _checked(made: int, tried: int, result: str, notes: Notes) -> Outcome:
    return {"reps_made": made, "reps_tried": tried, "result": result}, notes
