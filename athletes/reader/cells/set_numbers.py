"""The numbers of a written set told apart: which one is the load, which are sets and reps."""

import re
from dataclasses import dataclass, replace

from athletes.reader.cells import set_words as words
from athletes.reader.cells.effort import Effort
from athletes.reader.cells.numbers import read_number
from athletes.reader.notes import ASK, GUESS, Note, Notes

LOAD_ABOVE = 20  # a bare number above this is a load, not a count of reps or sets; common practice, no source
MOST_SETS, MOST_REPS = 30, 60
NO_EFFORT = Effort()


@dataclass(frozen=True, slots=True)
class SetText:
    """One kind of set from a cell; `load` is None where the cell holds no load, `count` says how often it was done.

    `result` is a word beside the load ("made", "no-lift"), `words` what is kept as a note, `tags` kit named there.
    """

    load: float | None = None
    load_typed: str = ""
    unit: str = ""
    count: int = 1
    reps: int | None = None
    made: int | None = None
    missed: bool = False
    effort: Effort = NO_EFFORT
    plates: tuple[float, float] | None = None
    percent: str = ""
    note: str = ""
    notes: Notes = ()
    result: str = ""
    words: str = ""
    tags: tuple[tuple[str, object], ...] = ()
    single: bool = False


UNIT = words.UNIT
DIGITS = r"(?:[\dOoI|]|l(?!b))*\d(?:[\dOoI|]|l(?!b))*"
NUMBER = re.compile(rf"(-?{DIGITS}(?:[.,'’]\d+)*|-?l\d+|-?[.,]\d+)\s*({UNIT})?(?![^\W\d_x])", re.I)
JOINING = re.compile(words.worded(words.JOINING), re.I)
KG_PER_LB = 0.45359237


@dataclass(frozen=True)
class Token:
    """A number, its unit, and what joins it to the number before ("" for nothing but a space)."""

    typed: str
    unit: str
    value: float | None
    joint: str
    notes: Notes

    @property
    def is_load(self) -> bool:
        number = self.value or 0.0
        return bool(self.unit) or abs(number) > LOAD_ABOVE or number != int(number) or number < 0


def tokens_of(rest: str, decimal: str) -> list[Token] | None:
    """The numbers of a set; None when anything else is left that is not understood."""
    text = JOINING.sub(" ", rest)
    found: list[Token] = []
    end = 0
    for hit in NUMBER.finditer(text):
        joint = re.sub(r"[\s()]", "", text[end : hit.start()])
        if joint.strip("x@:,./=") or (joint and (joint[0] in ".," or (joint[0] in "/=" and not found))):
            return None
        number = read_number(hit[1], decimal)
        found.append(Token(hit[1], unit_word(hit[2] or ""), number.value, joint, number.notes))
        end = hit.end()
    return found if not re.sub(r"[\s()x@:.]", "", text[end:]).rstrip("+") else None


def unit_word(typed: str) -> str:
    """kg or lb for a typed unit, "" for none."""
    if not typed:
        return ""
    return "lb" if words.IS_LB.fullmatch(typed) else "kg"


def assemble(tokens: list[Token] | None, rest: str, found: SetText, sets_first: bool, part: str) -> SetText:
    """A set from its numbers and everything that was said beside them."""
    if tokens is None:
        return _asked(found, _why_not(part))
    found = replace(found, notes=found.notes + tuple(n for t in tokens for n in t.notes))
    if any(t.value is None for t in tokens):
        return found
    if any(t.value == 0 and len(t.typed) > 1 and t.typed.isdigit() for t in tokens):
        return _asked(found, f"“{part[:40]}” cannot be read as a set")
    loads, counts = [t for t in tokens if t.is_load], [t for t in tokens if not t.is_load]
    loads, counts, found = _moved(loads, counts, found, part)
    if {"/", "="} & {t.joint for t in loads[1:] + counts}:
        return _asked(found, _why_not(part))
    if len(loads) > 1 or (loads and found.plates) or len(counts) > 2:
        return _asked(found, f"“{part[:40]}”: which number is the load?")
    if len(counts) == 2 and not _joined(tokens, counts):
        return _asked(found, f"“{part[:40]}”: are {counts[0].typed} and {counts[1].typed} sets and reps?")
    if loads:
        load = loads[0]
        found = replace(found, load=load.value, load_typed=load.typed[:20], unit=load.unit)
        found = _reps_before(tokens, counts, found, part)
    return _with_percent(_finished(counts, rest, found, sets_first, part))


def _finished(counts: list[Token], rest: str, found: SetText, sets_first: bool, part: str) -> SetText:
    if counts and found.single:
        if len(counts) == 1 and found.count == 1 and found.reps is not None:
            return replace(found, count=max(int(counts[0].value or 1), 1))
        return _asked(found, f"“{part[:40]}”: which numbers are sets and reps?")
    if found.single:
        return _limits(found)
    if rest.rstrip().endswith("+") and counts:
        found = replace(
            found, notes=(*found.notes, Note(GUESS, f"“{counts[-1].typed}+” read as {counts[-1].typed} reps"))
        )
    return counted([int(t.value or 0) for t in counts], found, sets_first)


def _why_not(part: str) -> str:
    if words.TO_BODY.search(part):
        return f"“{part[:40]}” adds to body mass: type the load of the bar"
    return f"“{part[:40]}” cannot be read as a set"


def _asked(found: SetText, said: str) -> SetText:
    return replace(found, notes=(*found.notes, Note(ASK, said)))


def _joined(tokens: list[Token], counts: list[Token]) -> bool:
    """Whether two small numbers are said to belong together by an "x", and not only by a space between them."""
    first, second = (i for i, t in enumerate(tokens) if any(t is c for c in counts))
    return all("x" in t.joint or "@" in t.joint for t in tokens[first + 1 : second + 1])


def _reps_before(tokens: list[Token], counts: list[Token], found: SetText, part: str) -> SetText:
    """ "5x180kg": five reps with 180, or five times 180?"""
    if len(counts) != 1 or found.single or tokens[0] is not counts[0] or "x" not in tokens[1].joint:
        return found
    if counts[0].value in (0, 1) or "@" in tokens[1].joint:
        return found
    said = f"“{part[:30]}” read as {counts[0].typed} reps"
    return replace(
        found, notes=(*found.notes, Note(GUESS, said, "times-load", "file")), note=found.note or "times-load"
    )


def _moved(
    loads: list[Token], counts: list[Token], found: SetText, part: str
) -> tuple[list[Token], list[Token], SetText]:
    """Two numbers that look like loads: one load in two units, or a load with many reps."""
    if len(loads) != 2:
        return loads, counts, found
    first, second = loads
    if first.unit and second.unit and first.unit != second.unit and _same(first, second):
        said = Note(GUESS, f"“{part[:40]}”: one load in two units, the first one kept")
        return [first], counts, replace(found, notes=(*found.notes, said))
    if not counts and _may_be_reps(second) and (second.joint or first.unit):
        said = Note(GUESS, f"“{part[:40]}” read as load x reps")
        return [first], [second], replace(found, notes=(*found.notes, said))
    if not counts and second.unit and not first.unit and 0 < (second.value or 0) <= LOAD_ABOVE:
        said = Note(GUESS, f"“{part[:40]}”: the unit taken for the load")
        return (
            [replace(first, unit=second.unit)],
            [replace(second, unit="")],
            replace(found, notes=(*found.notes, said)),
        )
    return loads, counts, found


def _may_be_reps(token: Token) -> bool:
    number = token.value or 0.0
    return not token.unit and number == int(number) and 0 < number <= MOST_REPS


def _same(one: Token, other: Token) -> bool:
    kg = [(t.value or 0.0) * (KG_PER_LB if t.unit == "lb" else 1.0) for t in (one, other)]
    return abs(kg[0] - kg[1]) <= 0.015 * max(kg)


def _with_percent(found: SetText) -> SetText:
    if not found.percent:
        return found
    if found.load is None:
        return _asked(found, f"“{found.percent}” is a share of a max that is not given: type the load")
    return replace(found, notes=(*found.notes, Note(GUESS, f"“{found.percent}” left aside: the load is given")))


def counted(counts: list[int], found: SetText, sets_first: bool) -> SetText:
    """Sets and reps from one or two counts; which of two comes first is decided for the file."""
    sets, reps = 1, counts[0] if counts else None
    if len(counts) == 2:
        sets, reps = counts if sets_first else reversed(counts)
        if counts[0] != counts[1] and 1 not in counts[:1]:
            said = f"“{counts[0]}x{counts[1]}” read as {sets} {'set' if sets == 1 else 'sets'} of {reps}"
            found = replace(found, notes=(*found.notes, Note(GUESS, said, "sets-reps", "file")))
    if reps == 0 and not found.missed:
        return replace(found, count=max(sets, 1), reps=1, made=0, missed=True, note=found.note or "zero")
    return _limits(replace(found, count=sets, reps=reps))


def _limits(found: SetText) -> SetText:
    if found.count > MOST_SETS or (found.reps or 0) > MOST_REPS or found.count == 0:
        return _asked(found, f"{found.count} sets of {found.reps} reps cannot be meant")
    return found
