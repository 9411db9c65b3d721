"""Sets as they are written in one cell: "5x3@180", "415 x 1 x 5", "230x3@8.5", "200F", "2+F", "4 plates"."""

import re
from dataclasses import dataclass, replace
from functools import lru_cache

from ..notes import ASK, GUESS, Note, Notes
from .effort import NUM, RANGE, Effort, is_rpe, read_effort
from .numbers import read_number, tidy

UNIT = r"kilograms?|kilogramos|kilos?|kgs?|k|pounds?|pfund|libras|lbs?|#"
LB = re.compile(r"pounds?|libras|lbs?|#", re.I)
FAIL_WORD = r"f|fail|failed|miss|missed|rat[eé]|fallo|nulo|✗|✘|❌|✖|×"
LOAD_ABOVE = 20  # a bare number above this is a load, not a count of reps or sets; common practice, no source
MOST_SETS, MOST_REPS = 30, 60
SPLIT = re.compile(r"\s*[;\n/]\s+|\s*;\s*|\s*\n\s*|\s+\|\s+|,\s+|(?<=[x@)fF%])\s*,(?=\s*\d)")
AFTER_X = re.compile(r"(?<=x)(\d+)\s*,\s*(?=\d+(?:[.,]\d+)?\s*(?:kg|lbs?)?\s*x)", re.I)
TIMES = re.compile(r"(?<=[\d\w)#])\s*[x×✕*]\s*(?=[\d.fF(✗✘❌])|(?<=[\d)#])\s*[×✕*]\s*", re.I)
TOKEN_GAP = re.compile(r"(\d\S*x\S*)\s+(?=\d+(?:[.,]\d+)?(?:kg|lbs?|#)?x[\df])", re.I)


NO_EFFORT = Effort()


@dataclass(frozen=True, slots=True)
class SetText:
    """One kind of set from a cell; `load` is None where the cell holds no load, `count` says how often it was done."""

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


@lru_cache(maxsize=50_000)
def read_sets(text: str, decimal: str = "", sets_first: bool = True) -> tuple[SetText, ...]:
    """Every set in the cell; `sets_first` says whether "5x3" is five sets of three or three sets of five."""
    clean = tidy(text.replace("\n", "; "))
    clean = TIMES.sub("x", clean)
    clean = AFTER_X.sub(r"\1; ", clean)
    clean = TOKEN_GAP.sub(r"\1; ", clean)
    found: list[SetText] = []
    for part in SPLIT.split(clean):
        if part.strip(" ,;"):
            found += _one(part.strip(" ,;"), decimal, sets_first, found[-1] if found else None)
    return tuple(found)


def read_reps(text: str, decimal: str = "", sets_first: bool = True) -> SetText:
    """A cell of a reps column: "3", "2+F", "3(2)", "F", "3x5"; a date there is a spreadsheet's doing and is "
    "asked about."""
    clean = TIMES.sub("x", tidy(text))
    if re.fullmatch(r"0+", clean):
        return SetText(reps=1, made=0, missed=True)
    part, found = _without_marks(clean, SetText())
    numbers = re.fullmatch(r"(\d+)(?:[.,]0+)?(?:x(\d+))?(?: reps?)?", part) if part else None
    if part and not numbers:
        return SetText(notes=(Note(ASK, f"“{tidy(text)[:40]}” is not a number of reps"),))
    if not numbers:
        return found if found.missed else SetText(notes=(Note(ASK, f"“{tidy(text)[:40]}” is not a number of reps"),))
    return _counts([int(n) for n in numbers.groups() if n], found, sets_first)


def _one(part: str, decimal: str, sets_first: bool, before: SetText | None) -> list[SetText]:
    rest, found = _without_effort(part, SetText())
    rest, found = _without_plates(rest, found)
    rest, found = _without_marks(rest, found)
    listed = re.fullmatch(r"(.*?x)(\d+(?:[,/+]\d+)+)", rest)
    if listed and not found.missed:
        reps = re.split(r"[,/+]", listed[2])
        return [s for r in reps for s in _terms(listed[1] + r, found, decimal, sets_first, part)]
    if (
        before is not None
        and not found.missed
        and re.fullmatch(r"\d{1,2}", rest)
        and before.load is not None
        and int(rest) <= LOAD_ABOVE
    ):
        return [replace(before, count=1, reps=int(rest), made=None, effort=found.effort)]
    return _terms(rest, found, decimal, sets_first, part)


def _without_effort(part: str, found: SetText) -> tuple[str, SetText]:
    for pattern in (rf"@?\s*rpe\s*:?\s*{RANGE}", rf"rir\s*:?\s*{RANGE}", rf"{RANGE}\s*rir", rf"{NUM}\s*rpe"):
        hit = re.search(rf"(?<![\w]){pattern}", part, re.I)
        if hit:
            effort = read_effort(hit[0])
            return _cut(part, hit), replace(found, effort=effort, notes=found.notes + effort.notes)
    hit = re.search(rf"@?\s*({NUM})\s*%", part)
    if hit:
        note = Note(ASK, f"“{hit[0].strip()}” is a share of a max that is not given: type the load")
        return _cut(part, hit), replace(found, percent=hit[0].strip(), notes=(*found.notes, note))
    hit = re.search(rf"@\s*{RANGE}(\+*)(?!\s*(?:{UNIT})\b|\s*%|[\dx])", part, re.I)
    if hit and is_rpe(float(hit[1].replace(",", "."))):
        effort = read_effort(hit[0])
        note = Note(GUESS, f"“{hit[0].strip()}” read as RPE", "at-number", "file")
        return _cut(part, hit), replace(found, effort=effort, notes=(*found.notes, note))
    hit = re.search(r"(?:\s|^)(easy|hard|grinder|\++)\s*$", part, re.I)
    if hit and part[: hit.start()].strip():
        return _cut(part, hit), replace(found, effort=Effort(hit[1]))
    return part, found


def _cut(part: str, hit: re.Match[str]) -> str:
    return f"{part[: hit.start()]} {part[hit.end() :]}".strip()


def _without_plates(part: str, found: SetText) -> tuple[str, SetText]:
    hit = re.search(rf"({NUM})\s*(?:pl|plates?|scheiben|disques)(?=x|\b)(?:\s*\+\s*({NUM})(?!\s*x))?", part, re.I)
    if not hit:
        return part, found
    plates = (float(hit[1].replace(",", ".")), float((hit[2] or "0").replace(",", ".")))
    note = Note(ASK, f"“{hit[0].strip()}”: what do the bar and one plate weigh here?", "plates", "file")
    rest = part[: hit.start()] + part[hit.end() :]
    return rest.strip(" x"), replace(found, plates=plates, load_typed=hit[0].strip()[:20], notes=(*found.notes, note))


def _without_marks(part: str, found: SetText) -> tuple[str, SetText]:
    """Take out what says that a rep was missed, and keep how many were made."""
    hit = re.search(rf"(\d+)\s*\+\s*(?:{FAIL_WORD})$", part, re.I)
    if hit:
        made = int(hit[1])
        return f"{part[: hit.start()]}{made + 1}", replace(found, made=made, missed=True)
    hit = re.search(r"(\d+)\s*\((\d+)\)$", part)
    if hit and int(hit[2]) <= int(hit[1]):
        note = Note(GUESS, f"“{hit[0]}” read as {hit[2]} made of {hit[1]} tried")
        missed = int(hit[2]) < int(hit[1])
        return f"{part[: hit.start()]}{hit[1]}", replace(
            found, made=int(hit[2]), missed=missed, notes=(*found.notes, note)
        )
    hit = re.fullmatch(rf"(.*?)(?:\s*x)?\s*(?:{FAIL_WORD})(?:\s*(?:rep|lift))?", part, re.I)
    if hit and (not hit[1] or hit[1][-1].isdigit() or hit[1][-1] in " gGsSbB#kK"):
        return hit[1].strip(), replace(found, missed=True)
    hit = re.fullmatch(r"x\s*(\d.*)", part, re.I)
    if hit:
        return hit[1], replace(found, missed=True)
    hit = re.fullmatch(r"(\d.*?)\s*x", part, re.I)
    if hit:
        note = Note(ASK, f"“{part}” may be a miss, or “{part}1” cut short", "cut-off", "file")
        return hit[1], replace(found, notes=(*found.notes, note), note="cut-off")
    return part, found


def _terms(rest: str, found: SetText, decimal: str, sets_first: bool, part: str) -> list[SetText]:
    pieces = re.findall(
        rf"(-?(?:[\dOoI|]|l(?!b))*\d(?:[\dOoI|]|l(?!b))*(?:[.,'’]\d+)*|-?l\d+|-?[.,]\d+)\s*({UNIT})?(?![\w])?",
        rest,
        re.I,
    )
    left = re.sub(
        rf"-?(?:[\dOoI|]|l(?!b))*\d(?:[\dOoI|]|l(?!b))*(?:[.,'’]\d+)*\s*(?:{UNIT})?|-?l\d+|\b(?:at|for|reps?|sets?|of|mit|wdh|x|single|double)\b|[x@:()]",
        " ",
        rest,
        flags=re.I,
    )
    if left.strip(" .,-+"):
        return [replace(found, notes=(*found.notes, Note(ASK, f"“{part[:40]}” cannot be read as a set")))]
    loads: list[tuple[str, str, float]] = []
    counts: list[int] = []
    for number, unit in pieces:
        value, notes = read_number(number, decimal)
        found = replace(found, notes=found.notes + notes)
        if value is None:
            return [found]
        if unit or abs(value) > LOAD_ABOVE or value != int(value) or value < 0:
            loads.append((number, unit, value))
        else:
            counts.append(int(value))
    return [_assemble(loads, counts, found, sets_first, part)]


def _assemble(
    loads: list[tuple[str, str, float]], counts: list[int], found: SetText, sets_first: bool, part: str
) -> SetText:
    if (
        len(loads) == 2
        and not counts
        and not loads[1][1]
        and loads[1][2] == int(loads[1][2])
        and 0 < loads[1][2] <= MOST_REPS
    ):
        counts, loads = [int(loads[1][2])], loads[:1]
        found = replace(found, notes=(*found.notes, Note(GUESS, f"“{part[:40]}” read as load x reps")))
    if len(loads) == 2 and not counts and loads[1][1] and not loads[0][1] and 0 < loads[1][2] <= LOAD_ABOVE:
        counts, loads = [int(loads[1][2])], [(loads[0][0], loads[1][1], loads[0][2])]
        found = replace(found, notes=(*found.notes, Note(GUESS, f"“{part[:40]}”: the unit taken for the load")))
    if len(loads) > 1 or (loads and found.plates) or len(counts) > 2:
        return replace(found, notes=(*found.notes, Note(ASK, f"“{part[:40]}”: which number is the load?")))
    if loads:
        typed, unit, value = loads[0]
        found = replace(found, load=value, load_typed=f"{typed}"[:20], unit=_unit(unit))
    return _counts(counts, found, sets_first)


def _unit(typed: str) -> str:
    if not typed:
        return ""
    return "lb" if LB.fullmatch(typed) else "kg"


def _counts(counts: list[int], found: SetText, sets_first: bool) -> SetText:
    sets, reps = 1, counts[0] if counts else None
    if len(counts) == 2:
        sets, reps = counts if sets_first else reversed(counts)
        if counts[0] != counts[1] and 1 not in counts[:1]:
            said = f"“{counts[0]}x{counts[1]}” read as {sets} {'set' if sets == 1 else 'sets'} of {reps}"
            found = replace(found, notes=(*found.notes, Note(GUESS, said, "sets-reps", "file")))
    if reps == 0 and not found.missed:
        return replace(found, count=max(sets, 1), reps=1, made=0, missed=True)
    if sets > MOST_SETS or (reps or 0) > MOST_REPS or sets == 0:
        found = replace(found, notes=(*found.notes, Note(ASK, f"{sets} sets of {reps} reps cannot be meant")))
    return replace(found, count=sets, reps=reps)
