"""Made or missed, and how many reps of how many."""

from ..cells.numbers import read_number
from ..cells.results import read_result
from ..cells.sets import SetText
from ..notes import ASK, GUESS, SKIP, Note, Notes, settled
from ..plan import ReadingPlan
from .context import Cells


def outcome_of(one: SetText, row: Cells, plan: ReadingPlan) -> tuple[dict[str, object], Notes]:
    """Result, reps made and reps tried of a set from its text, the result column and the answers."""
    result, notes = _result(one, row, plan)
    tried = _tried(row, plan)
    if tried is not None and one.reps is not None and one.made is None:
        return _as_logged(one.reps, tried, result, notes)
    reps = one.reps
    if reps is None:
        reps = 1
        if one.load is not None and {"reps", "set"} & set(plan.mapping) and not one.missed:
            notes += (Note(GUESS, "no reps: taken as a single"),)
    if result == "made" and not one.missed:
        return _checked(reps, reps, "made", notes)
    if result in ("no-lift", "not-tried"):
        return _checked(0, reps, result, notes)
    result = "missed" if result == "made" else result
    if one.made is not None:
        return _checked(one.made, reps, result, notes)
    if one.count > 1:
        return {}, (*notes, Note(ASK, f"{one.count} sets with a miss: which one was it?"))
    made, more = _missed_reps(reps, plan)
    return _checked(*made, result, notes + more)


def _result(one: SetText, row: Cells, plan: ReadingPlan) -> tuple[str, Notes]:
    word = row.first("result")
    if one.load is not None and one.load < 0:
        return _minus(one, word, plan)
    if one.note == "cut-off":
        answered = plan.answer("cut-off")
        return ("missed" if answered == "missed" else "made"), ()
    if not word:
        return ("missed" if one.missed else "made"), ()
    found = read_result(word)
    if not found.notes:
        return found.value, ()
    answered = plan.answer(found.notes[0].question, found.notes[0].subject)
    if answered == "leave-out":
        return "made", (Note(SKIP, f"result “{word[:30]}” left out, as answered", *found.notes[0][2:]),)
    return (str(answered), settled(*found.notes[0][2:])) if answered else ("made", found.notes)


def _minus(one: SetText, word: str, plan: ReadingPlan) -> tuple[str, Notes]:
    answered = plan.answer("minus")
    if answered in ("made", "missed"):
        return str(answered), settled("minus")
    return "missed", (Note(GUESS, f"“{one.load_typed}” read as a missed attempt", "minus", "file"),)


def _tried(row: Cells, plan: ReadingPlan) -> int | None:
    typed = row.first("tried")
    if not typed:
        return None
    number = read_number(typed, plan.decimal).value
    return int(number) if number is not None and number == int(number) else -1


def _as_logged(made: int, tried: int, result: str, notes: Notes) -> tuple[dict[str, object], Notes]:
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


def _checked(made: int, tried: int, result: str, notes: Notes) -> tuple[dict[str, object], Notes]:
    return {"reps_made": made, "reps_tried": tried, "result": result}, notes
