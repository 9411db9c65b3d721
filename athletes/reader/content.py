"""Columns told from what most of their cells look like, for files without headings and headings that say too little."""

import re
from collections.abc import Callable, Sequence

from athletes.reader.cells.dates import looks_like_date
from athletes.reader.cells.lifts import read_lift
from athletes.reader.cells.numbers import read_number, tidy
from athletes.reader.cells.results import WORDS as RESULT_WORDS
from athletes.reader.cells.sets import read_sets
from athletes.units.lengths import read

SET_LIKE = re.compile(r"\d\s*(?:kgs?|lbs?|кг|公斤)(?![a-wyz])|\d\s*[x×@*]\s*\d", re.I)
Test = Callable[[str], bool]


def map_by_content(rows: Sequence[Sequence[str]], one_lifter: bool = False) -> list[str]:
    """Mappings for a file without headings; `one_lifter` says that the file was told whose log it is."""
    width = max((len(r) for r in rows), default=0)
    mapping: list[str] = []
    for i in range(width):
        cells = [r[i] for r in rows if i < len(r) and r[i].strip()]
        mapping.append(_content_field(cells, mapping, one_lifter or width == 1))
    _name_counts(mapping)
    if "lifter" not in mapping and "?" in mapping and not one_lifter:
        mapping[mapping.index("?")] = "lifter"
    return ["note" if f == "?" and "note" not in mapping[:i] else "" if f == "?" else f for i, f in enumerate(mapping)]


def _name_counts(mapping: list[str]) -> None:
    """Whole numbers beside the load: one column is reps, two are sets and reps, more are left aside."""
    counts = [i for i, field in enumerate(mapping) if field == "count"]
    names = ["reps"] if len(counts) == 1 else ["sets", "reps"]
    for at, i in enumerate(counts):
        mapping[i] = names[at] if at < len(names) else ""


def is_count(cell: str) -> bool:
    """Whether a cell is a number of reps or sets."""
    value = read_number(cell).value
    return value is not None and value == int(value) and 0 < value <= 20


def is_scheme(cell: str) -> bool:
    """Whether a cell says sets and reps and no load, as in "3x5"."""
    return re.fullmatch(r"\d{1,2}\s*[x×X*]\s*\d{1,2}", tidy(cell)) is not None


def numbers_sets(cells: Sequence[str]) -> bool:
    """Whether whole numbers go 1, 2, 3 and begin again at 1, as the numbers of sets do and counts of sets do not."""
    values = [read_number(c).value for c in cells]
    return all(v == 1 or (i and v == (values[i - 1] or 0) + 1) for i, v in enumerate(values))


def fits_measure(key: str, cell: str) -> bool:
    """Whether a cell can be a usual reading of a measure, in any unit."""
    reading = read(key, cell, "cm")
    return reading is not None and (reading.value is not None or any(c.name != "kept" for c in reading.choices))


def _is_effort(cell: str) -> bool:
    value = read_number(tidy(cell).lstrip("@")).value
    return value is not None and 5 <= value <= 10 and value * 2 == int(value * 2)


def may_be_set(cell: str) -> bool:
    """Whether a cell looks as if it held a set, read or not."""
    return SET_LIKE.search(tidy(cell)) is not None or is_number(cell)


def is_number(cell: str) -> bool:
    """Whether a cell is a plain number."""
    return read_number(cell).value is not None


def _holds_sets(cell: str) -> bool:
    found = read_sets(cell)
    return bool(found) and all(s.load is not None and not s.percent for s in found)


def _content_field(cells: Sequence[str], taken: Sequence[str], diary: bool) -> str:
    if not cells:
        return ""
    if diary and not taken:
        cells = [c for c in cells if not looks_like_date(c) and not read_lift(c).known] or cells
    halves = any(read_number(c).value not in (None, int(read_number(c).value or 0)) for c in cells)
    tests: tuple[tuple[str, Test], ...] = (
        ("date", looks_like_date),
        ("unit", lambda c: tidy(c).casefold() in ("kg", "lb", "lbs", "kgs")),
        ("effort", lambda c: "load" in taken and halves and _is_effort(c)),
        ("count", is_count),
        ("load", is_number),
        ("", is_number),
        ("set", _holds_sets),
        ("set", lambda c: SET_LIKE.search(tidy(c)) is not None),
        ("result", lambda c: tidy(c).casefold() in RESULT_WORDS),
        ("lift", lambda c: read_lift(c).known),
    )
    for field, fits in tests:
        if field in taken and field not in ("count", "set", ""):
            continue
        if sum(map(fits, cells)) * 2 > len(cells):
            return field
    return "?"
