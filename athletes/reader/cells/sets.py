"""Sets as they are written in one cell: "5x3@180", "415 x 1 x 5", "230x3@8.5", "200F", "2+F", "4 plates"."""

import re
from dataclasses import replace
from functools import lru_cache

from athletes.reader.cells import set_words as words
from athletes.reader.cells.numbers import tidy
from athletes.reader.cells.set_marks import beside_the_numbers, without_marks
from athletes.reader.cells.set_numbers import LOAD_ABOVE, SetText, assemble, counted, tokens_of
from athletes.reader.notes import ASK, GUESS, Note

UNIT = words.UNIT
LONGEST, LONGEST_PART = 600, 120  # letters: nobody writes more in a cell, and every pattern here stays quick
_LOAD = r"\d+(?:[.,]\d+)?\s*(?:kg|lbs?|#)?\s*x"
SPLIT = re.compile(
    r"\s*[;\n]\s*|\s*/\s+|\s+\|\s+|,\s+|(?<=[x@)fF%])\s*,(?=\s*\d)"
    rf"|\s*(?:→|->|=>)\s*(?={_LOAD})|\s+(?:{words.THEN})\s+(?=\d)|(?:(?<=x\d)|(?<=x\d\d))\s*[+/>-]\s*(?={_LOAD})|(?<=kg)\s+\+\s+(?={_LOAD})",
    re.I,
)
AFTER_X = re.compile(r"(?<=x)(\d+)\s*,\s*(?=\d+(?:[.,]\d+)?\s*(?:kg|lbs?)?\s*x)", re.I)
TIMES = re.compile(r"(?<=[\d\w)#])\s*[x×✕*]\s*(?=[\d.(fF✗✘❌])|(?<=[\d)#])\s*[×✕]\s*", re.I)
TOKEN_GAP = re.compile(r"(\d\S*x\S*)\s+(?=\d+(?:[.,]\d+)?(?:kg|lbs?|#)?x[\df])", re.I)
REP_LIST = re.compile(
    r"(.*?x|.*?\d\s*(?:kg|lbs?|#)?\s*:|.*?(?:kg|lbs?|#)\s)\s*(\d{1,2}(?:\s*([,/ ;-])\s*\d{1,2})(?:\s*\3\s*\d{1,2})+)",
    re.I,
)
BRACKETS = re.compile(rf"[(\[]\s*(\d{{2,3}}(?:[.,]\d+)?\s*(?:{UNIT})?)\s*[)\]]", re.I)


@lru_cache(maxsize=50_000)
def read_sets(text: str, decimal: str = "", sets_first: bool = True) -> tuple[SetText, ...]:
    """Every set in the cell; `sets_first` says whether "5x3" is five sets of three or three sets of five."""
    if len(text) > LONGEST:
        return (SetText(notes=(Note(ASK, f"“{text[:30]}…” is too long to be sets ({len(text)} letters)"),)),)
    clean = plain(text.replace("\n", "; "))
    clean = AFTER_X.sub(r"\1; ", clean)
    clean = TOKEN_GAP.sub(r"\1; ", clean)
    found: list[SetText] = []
    for part in (p.strip(" ,;") for p in SPLIT.split(clean)):
        if len(part) > LONGEST_PART:
            found.append(SetText(notes=(Note(ASK, f"“{part[:40]}…” cannot be read as a set"),)))
        elif part:
            found += _one(part, decimal, sets_first, found[-1] if found else None)
    return tuple(found)


def plain(text: str) -> str:
    """The text tidied, with one sign for "times" and words for "w/" and "w/o"."""
    clean = re.sub(r"(?<!\w)w/o\.?\s*", "without ", tidy(text), flags=re.I)
    return TIMES.sub("x", re.sub(r"(?<!\w)w/\s*", "with ", clean, flags=re.I))


def read_reps(text: str, decimal: str = "", sets_first: bool = True) -> SetText:
    """A cell of a reps column: "3", "2+F", "3(2)", "F", "3x5", "8+"; a date there is a spreadsheet's doing and is
    asked about."""
    clean = plain(text[:LONGEST_PART])
    unread = SetText(notes=(Note(ASK, f"“{tidy(text)[:40]}” is not a number of reps"),))
    if len(text) > LONGEST_PART:
        return unread
    if re.fullmatch(r"0+", clean):
        return counted([0], SetText(), sets_first)
    part, found = without_marks(clean, SetText())
    if not part:
        return found if found.missed else unread
    numbers = re.fullmatch(rf"x?(\d+)(?:[.,]0+)?(?:x(\d+))?(\+*)\s*(?:{words.REPS})?", part, re.I)
    if not numbers:
        return unread
    if numbers[3]:
        found = replace(found, notes=(*found.notes, Note(GUESS, f"“{tidy(text)[:20]}” read as {numbers[1]} reps")))
    return counted([int(n) for n in numbers.groups()[:2] if n], found, sets_first)


@lru_cache(maxsize=5_000)
def rep_list(text: str) -> tuple[int, ...]:
    """Reps of several sets in one cell, as in "5,5,4"; empty when the cell is no such list."""
    clean = plain(text) if len(text) <= LONGEST_PART else ""
    found = re.fullmatch(r"\d{1,2}(?:(?:\s*[,/;]\s*|\s+)\d{1,2}){2,}|\d{1,2}(?:\s*;\s*|,\s+)\d{1,2}", clean)
    return tuple(int(n) for n in re.findall(r"\d+", clean)) if found else ()


def _one(part: str, decimal: str, sets_first: bool, before: SetText | None) -> list[SetText]:
    listed = REP_LIST.fullmatch(part)
    if listed:
        return _listed(part, listed[1], re.findall(r"\d+", listed[2]), decimal, sets_first)
    bracketed = BRACKETS.fullmatch(part)
    if bracketed:
        said = Note(ASK, f"“{part}” stands in brackets: made or missed?", "brackets", "file")
        return [
            replace(s, notes=(*s.notes, said), note="brackets") for s in _one(bracketed[1], decimal, sets_first, None)
        ]
    rest, found = beside_the_numbers(part)
    if before is not None and before.load is not None and not found.missed and re.fullmatch(r"x?\d{1,2}", rest):
        reps = int(rest.lstrip("x"))
        if reps <= LOAD_ABOVE:
            return [replace(before, count=1, reps=reps, made=None, missed=False, result="", effort=found.effort)]
    return [assemble(tokens_of(rest, decimal), rest, found, sets_first, part)]


def _listed(part: str, head: str, reps: list[str], decimal: str, sets_first: bool) -> list[SetText]:
    """ "100x5,5,4": one load, the reps of each set."""
    said = Note(GUESS, f"“{part[:40]}” read as {len(reps)} sets of {', '.join(reps)} reps")
    load = head.strip().rstrip("x: ")
    sets = [s for r in reps for s in _one(f"{load} x{r}".replace(" x", "x"), decimal, sets_first, None)]
    return [replace(s, notes=(*s.notes, said)) for s in sets]


__all__ = ["LOAD_ABOVE", "SetText", "read_reps", "read_sets", "rep_list"]
