"""Which reps, effort and result belong to which load, where a line has several: told by where the columns stand."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from athletes.reader.cells.lifts import ESTIMATE, without_estimate
from athletes.reader.cells.numbers import read_number
from athletes.reader.cells.set_numbers import MOST_SETS
from athletes.reader.cells.sets import SetText, read_reps, read_sets, rep_list
from athletes.reader.content import is_scheme
from athletes.reader.notes import ASK, GUESS, SKIP, Note, Notes
from athletes.reader.plan import ReadingPlan
from athletes.reader.rows.context import AdjacentCells, Cells

LISTED = "listed:"  # with how many sets the cell lists
KINDS = ("effort", "rir", "result", "tried", "sets")


def pair(loads: Sequence[int], others: Sequence[int]) -> dict[int, list[int]]:
    """For each column of loads the columns that say more about it.

    As many as loads: one each, in order. One: it holds for all. Else each belongs to the load before it.
    """
    if len(others) == len(loads):
        return {load: [other] for load, other in zip(loads, others, strict=True)}
    if len(others) == 1:
        return {load: list(others) for load in loads}
    found: dict[int, list[int]] = {load: [] for load in loads}
    for other in others:
        before = [load for load in loads if load < other]
        if loads:
            found[before[-1] if before else loads[0]].append(other)
    return found


def loads_with_reps(row: Cells, plan: ReadingPlan, of: str = "") -> Iterator[tuple[int, SetText, AdjacentCells]]:
    """Every filled column of loads with what belongs to it; `of` is a lift that has columns of its own."""
    loads = row.columns(f"lift:{of}" if of else "load")
    fields = {kind: _columns_of_kind(row, kind, of, loads) for kind in ("reps", *KINDS)}
    schemes = [i for i, _ in schemes_of(row)] if not fields["reps"] and not of else []
    pairs = {kind: pair(loads, columns) for kind, columns in fields.items()}
    reps = pair(loads, fields["reps"] or schemes)
    used: set[int] = set()
    for load in loads:
        cell, counts = row.at(load), [(i, row.at(i)) for i in reps.get(load, []) if row.at(i)]
        if cell:
            used |= {i for i, _ in counts}
            sets = [one for _, c in counts for one in paired(cell, c, plan)] if counts else paired(cell, "", plan)
            for k, one in enumerate(listed(sets)):
                yield load, one, _beside(row, pairs, load, k if len(counts) > 1 else 0)
    for i in fields["reps"]:
        if row.at(i) and i not in used and loads:
            said = f"“{row.at(i)[:20]}” in a column of reps has no load beside it"
            yield i, SetText(notes=(Note(ASK, said),)), AdjacentCells()


def _columns_of_kind(row: Cells, kind: str, of: str, loads: list[int]) -> list[int]:
    """The columns of a kind that belong to these loads: by their lift's name, or by standing behind them."""
    if not of:
        return row.columns(kind)
    named = row.columns(f"{kind}:{of}")
    if named:
        return named
    lifts = [i for i, field in enumerate(row.plan.mapping) if field.startswith("lift:")]
    behind = [i for i in row.columns(kind) if max((x for x in lifts if x < i), default=-1) in loads]
    return behind or (row.columns(kind) if set(lifts) <= set(loads) else [])


def listed(sets: list[SetText]) -> list[SetText]:
    """Several sets of one cell, marked so that a number of sets beside them is a check and never multiplies them."""
    if len(sets) < 2:
        return sets
    count = sum(one.count for one in sets)
    return [replace(one, note=one.note or f"{LISTED}{count}") for one in sets]


def schemes_of(row: Cells) -> list[tuple[int, str]]:
    """Cells such as "3x5" in a column of sets, which beside a column of loads say sets and reps."""
    return [(column, cell) for column, cell in row.all("set") if is_scheme(cell)]


def _beside(row: Cells, pairs: dict[str, dict[int, list[int]]], load: int, place: int) -> AdjacentCells:
    cells = {}
    for kind in KINDS:
        columns = pairs[kind].get(load, [])
        at = columns[place] if place < len(columns) else columns[0] if len(columns) == 1 else None
        cells[kind] = row.at(at) if at is not None else ""
    return AdjacentCells(**cells)


def paired(cell: str, reps: str, plan: ReadingPlan) -> list[SetText]:
    """A load cell with the reps beside it."""
    cell, aside = left_aside(cell)
    if not cell:
        return [SetText(notes=aside)]
    number = read_number(cell, plan.decimal)
    if number.value is not None:
        read = [SetText(load=number.value, load_typed=cell[:20], notes=number.notes)]
    else:
        read = list(read_sets(cell, plan.decimal, plan.sets_first))
    read = [replace(one, notes=one.notes + aside) for one in read]
    return _counted(read, reps, cell, plan) if reps else read


def _counted(read: list[SetText], reps: str, cell: str, plan: ReadingPlan) -> list[SetText]:
    listed = rep_list(reps)
    if listed and len(read) == 1 and read[0].reps is None:
        said = Note(GUESS, f"“{reps[:20]}” read as {len(listed)} sets")
        return [replace(read[0], reps=n, single=True, notes=(*read[0].notes, said)) for n in listed]
    if listed and len(listed) == len(read):
        return [_agreed(one, SetText(reps=n), cell, reps) for one, n in zip(read, listed, strict=True)]
    counted = read_reps(reps, plan.decimal, plan.sets_first)
    return [_agreed(one, counted, cell, reps) for one in read]


def _agreed(one: SetText, counted: SetText, cell: str, reps: str) -> SetText:
    """The set with the reps of its column, which must not say anything else than its own cell."""
    own = one.reps if one.made is None else one.made
    if own is not None and counted.reps is not None and own not in (counted.reps, counted.made):
        said = f"“{cell[:20]}” says {own} reps, the column of reps “{reps[:20]}”: which one holds?"
        return replace(one, notes=(*one.notes, Note(ASK, said)))
    return replace(
        one, reps=counted.reps if own is None else one.reps, made=one.made if counted.made is None else counted.made,
        missed=one.missed or counted.missed, count=max(one.count, counted.count), notes=one.notes + counted.notes,
        note=one.note or counted.note,
    )  # fmt: skip


def times(one: SetText, typed: str, plan: ReadingPlan) -> SetText:
    """The set as often as its column of sets says; sets that were listed one by one are only counted."""
    number = read_number(typed, plan.decimal).value
    if number is not None and number == int(number) and 1 <= number <= MOST_SETS:
        there = int(one.note.removeprefix(LISTED)) if one.note.startswith(LISTED) else one.count
        if there > 1 and there != number:
            said = f"{there} sets here, {number:g} in the column of sets: which one holds?"
            return replace(one, notes=(*one.notes, Note(ASK, said)))
        return one if there > 1 else replace(one, count=int(number))
    scheme = read_reps(typed, plan.decimal, plan.sets_first)
    if scheme.count > 1 and scheme.reps and one.reps is None:
        return replace(one, count=scheme.count, reps=scheme.reps, notes=one.notes + scheme.notes)
    return replace(one, notes=(*one.notes, Note(ASK, f"“{typed[:20]}” is not a number of sets")))


def left_aside(cell: str) -> tuple[str, Notes]:
    """The cell without an estimate in it; nothing is left of one that holds nothing but an estimate."""
    low = cell.casefold()
    if not (ESTIMATE.search(low) or "(est" in low or (low[:1] == "e" and low[1:2].isdigit())):
        return cell, ()
    rest = without_estimate(cell)
    if rest and any(one.load is not None and one.reps is not None for one in read_sets(rest)):
        return rest, (Note(GUESS, f"the estimate in “{cell[:30]}” left aside: it is not a lift"),)
    return "", (Note(SKIP, f"“{cell[:30]}”: an estimate is not a lift"),)
