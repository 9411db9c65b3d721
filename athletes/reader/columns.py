"""The columns of a log: what its headings ask for, one mapping per column.

A mapping is a field name, "" for a column that is left aside, "set" for whole sets in a cell, "lift:<name>" for a
column that holds loads or sets of that lift, "reps:<name>" and its like for a column that belongs to it, "on:<date>"
for one named by a date.
"""

import re
import unicodedata
from collections.abc import Callable, Sequence

from athletes.reader.cells.dates import looks_like_date
from athletes.reader.cells.lifts import read_lift
from athletes.reader.cells.numbers import read_number, tidy
from athletes.reader.content import (
    fits_measure,
    is_count,
    is_number,
    is_scheme,
    map_by_content,
    may_be_set,
    numbers_sets,
)
from athletes.reader.headings import ALIASES, EXPORT, LABELS, MASS, MEASURE_FIELDS, PAIRED

NUMBERED = re.compile(r"(.+?)[\s_.#-]*(\d{1,2})")
NUMBER_INSIDE = re.compile(r"(.+?)[\s_.#-]+\d{1,2}[\s_.-]+(.+)")
UNIT_AT_END = re.compile(r"-?(?:in-)?(?:cm|mm|m|in|inch|inches|ft|feet|kg|kgs|kilos|lb|lbs|pounds)$")
LENGTHS = {"cm": "cm", "mm": "mm", "m": "m", "in": "in", "inch": "in", "inches": "in", "ft": "ft", "feet": "ft"}
STRONG = 3  # so many headings on a line are headings, whatever else stands there
LONGEST = 120  # letters of a heading; more is a title or a story
NOT_DONE = re.compile(
    r"(?<!\w)(?:planned|plan|target|goal|prescribed|programmed|prescription|intended|proposed|next|previous|prev|soll|geplant|"
    r"ziel|vorgabe|pr[ée]vue?|objectif|objetivo|previst[oa]|planificado|doel|gepland|planowan[ey]|cel|mål|план|цель)(?!\w)",
    re.I,
)
DONE = re.compile(
    r"[(\[]?(?<!\w)(?:actual|achieved|performed|real|ist|tatsächlich|réel|réalisée?|realizado|факт)(?!\w)[)\]]?", re.I
)
UNIT_WORDS = {"kg", "lb", "lbs", "kilos", "pounds", "r"}
WHO_WHEN_WHAT = ("date", "lifter", "lift")
REPEATS = {"load", "reps", "sets", "effort", "rir", "result", "set", "aside", ""}
TRAINING = {"lift", "style", "reps", "sets", "set", "effort", "rir", "result", "unit", "order"}


def heading_key(text: str) -> str:
    """A heading as it is compared: composed, folded, words joined by hyphens, units in brackets dropped."""
    text = unicodedata.normalize("NFC", tidy(text)).casefold()
    text = re.sub(r"[(\[].*?[)\]]", "", text)
    return re.sub(r"[\s_/.:]+", "-", text.strip()).strip("-")


def heading_unit(text: str) -> str:
    """The unit of mass a heading names, as in "Weight (lb)" or "load_kg"."""
    found = re.search(r"(?:^|[\W_\d])(kgs?|kilos?|lbs?|pounds)(?:$|[\W_])", tidy(text).casefold())
    return "" if not found else "kg" if found[1][0] == "k" else "lb"


def length_unit(text: str) -> str:
    """The unit of length a heading names at its end or in brackets, as in "Height (cm)" or "span in"."""
    found = re.search(r"[\s_([/.,-](cm|mm|m|in|inch|inches|ft|feet)[)\]]?$", tidy(text).casefold())
    return LENGTHS[found[1]] if found else ""


def unit_of_column(heading: str, field: str) -> str:
    """The unit that a heading gives the numbers under it."""
    return (
        length_unit(heading) if (field in MEASURE_FIELDS and field != MASS) or field == "arm" else heading_unit(heading)
    )


def field_of(heading: str) -> str:
    """The mapping a heading asks for, "" when it says nothing that is known."""
    heading = DONE.sub(" ", heading) if len(heading) <= LONGEST else ""
    key = heading_key(heading)
    if not key or NOT_DONE.search(heading):
        return "aside" if key else ""
    if key in ALIASES:
        return ALIASES[key]
    plain = ALIASES.get(UNIT_AT_END.sub("", key), "")
    if plain in ("load", "start_height", "arm") or plain in MEASURE_FIELDS:
        return plain
    found = _numbered(key, heading_unit(heading))
    if found:
        return found
    if looks_like_date(heading):
        return f"on:{tidy(heading)}"
    return _of_a_lift(heading)


def _numbered(key: str, unit: str) -> str:
    """ "Set 2", "Reps 3", "Set 2 reps", "Weight 1 (kg)"; a set with a unit is its load."""
    numbered = NUMBERED.fullmatch(UNIT_AT_END.sub("", key))
    base = numbered[1].strip("-") if numbered else ""
    if base in ("set", "sets", "satz", "série", "serie", "attempt", "versuch", "essai", "intento", "serija", "serii"):
        return "load" if unit else "set"
    inside = NUMBER_INSIDE.fullmatch(key)
    if inside and ALIASES.get(inside[1].strip("-")) in ("set", "sets", "order"):
        base = inside[2]
    field = ALIASES.get(base, "")
    return field if field in ("load", "reps", "effort", "rir", "result", *WHO_WHEN_WHAT) else ""


def _of_a_lift(heading: str) -> str:
    """A heading that names a lift, alone or with what its column holds: "Deadlift kg", "Squat reps", "DL 2"."""
    called = re.sub(r"[(\[]\s*(?:kgs?|lbs?)\s*[)\]]", "", tidy(heading), flags=re.I).strip()
    words = re.split(r"[\s_/-]+", called)
    for kind, name in ((words[-1], words[:-1]), (words[0], words[1:])):
        field = ALIASES.get(heading_key(kind), "")
        if name and (field in PAIRED or field == "load") and _is_lift(" ".join(name)):
            return f"{'lift' if field == 'load' else field}:{' '.join(name)}"
    numbered = NUMBERED.fullmatch(heading_key(called))
    called = re.sub(r"\s*[#_-]?\d{1,2}$", "", called) if numbered else called
    return f"lift:{called}" if _is_lift(called) else ""


def _is_lift(text: str) -> bool:
    name = read_lift(text)
    return name.known and bool(name.tags)


def is_header(cells: Sequence[str]) -> bool:
    """Whether a line is a heading line: two headings of a log, or one and nothing but lifts, days and headings else.

    Words that are as common in the cells of a log ("kg") do not count.
    """
    named = [c for c in cells if c.strip()]
    known = [c for c in named if _is_known(c)]
    if len(known) >= STRONG:
        return True
    if len(named) == 1:
        return bool(known) and heading_key(named[0]) in ALIASES
    if len(named) > 1 and not cells[0].strip() and all(looks_like_date(c) for c in named):
        return True
    numbers = [value for c in named if (value := read_number(c).value) is not None]
    if len(numbers) > len(named) // 3 and numbers != list(range(1, len(numbers) + 1)):
        return False
    return len(known) >= 2 or (len(known) == 1 and all(field_of(c) for c in named))


def _is_known(cell: str) -> bool:
    """Whether a cell is a heading of a log and hardly anything else."""
    key = heading_key(cell)
    return key not in UNIT_WORDS and (key in ALIASES or field_of(cell) in LABELS.keys() - {"aside"})


def is_header_again(cells: Sequence[str]) -> bool:
    """Whether a line inside the data holds headings and nothing else."""
    if any(c[:1].isdigit() for c in cells):  # no heading begins so; most lines of a log do
        return False
    named = [heading_key(c) for c in cells if c.strip()]
    return len(named) >= 2 and all(key in ALIASES and key not in UNIT_WORDS for key in named)


def is_second_header(cells: Sequence[str]) -> bool:
    """Whether the line under the headings says more about them: units and headings, nothing else."""
    named = [c for c in cells if c.strip()]
    return bool(named) and all(heading_key(c) in ALIASES or unit_word(c) for c in named)


def unit_word(cell: str) -> str:
    """The unit of length that a cell of headings is, "" when it is none."""
    return length_unit(f"({cell.strip().strip('()[]')})")


def merged_header(top: Sequence[str], bottom: Sequence[str]) -> list[str]:
    """Two lines of headings as one: a group above "kg" and "reps", or a word that only the second line has."""
    width = max(len(top), len(bottom))
    upper = [top[i].strip() if i < len(top) else "" for i in range(width)]
    lower = [bottom[i].strip() if i < len(bottom) else "" for i in range(width)]
    group, merged = "", []
    for own, under in zip(upper, lower, strict=True):
        group = own or group
        merged.append(_merged(own, group if _is_lift(group) else own, under))
    return merged


def _merged(own: str, group: str, under: str) -> str:
    if not under:
        return own
    if group and field_of(f"{group} {under}"):
        return f"{group} {under}"
    if own and field_of(own) and ALIASES.get(heading_key(under)) not in PAIRED:
        return f"{own} ({under})"
    return under


def map_header(cells: Sequence[str], rows: Sequence[Sequence[str]] = ()) -> list[str]:
    """One mapping per heading; only columns that may repeat do so. `rows` tell a set's number from a set."""
    found = [field_of(c) for c in cells]
    columns = [[r[i] for r in rows if i < len(r) and r[i].strip()] for i in range(len(found))]
    for i, cell in enumerate(cells):
        if cell.strip().isdigit() and columns[i] and all(map(may_be_set, columns[i])):
            found[i] = "set"
    _numbers_of_sets(found, columns, rows)
    _bodies(found, columns)
    _unnamed(found, columns)
    _one_of_two_units(found, cells)
    return _once(found, [re.sub(r"-?\d{1,2}(?=-|$)", "", heading_key(c)) for c in cells])


def _one_of_two_units(found: list[str], cells: Sequence[str]) -> None:
    """The load once in kg and once in lb is one load: the first column is kept."""
    loads = [i for i, field in enumerate(found) if field == "load" and heading_unit(cells[i])]
    if len({heading_unit(cells[i]) for i in loads}) == 2:
        for i in loads:
            if heading_unit(cells[i]) != heading_unit(cells[loads[0]]):
                found[i] = "aside"


def _once(found: list[str], keys: list[str]) -> list[str]:
    """Each field once in every table; a second heading for a day, lifter or lift begins another one beside it."""
    seen: dict[str, str] = {}
    begins = ""
    for i, field in enumerate(found):
        if field in seen and field in WHO_WHEN_WHAT and keys[i] == seen[field] and begins in ("", field):
            begins = field
            shared = set(found[: found.index(field)])
            seen = {name: key for name, key in seen.items() if name in shared}
        elif field in seen and ":" not in field and (field not in REPEATS or not _repeats(field, keys[i], seen)):
            found[i] = ""
        seen.setdefault(field, keys[i])
    return found


def _repeats(field: str, key: str, seen: dict[str, str]) -> bool:
    """Whether a column says the same kind of thing again under the same heading, and not another thing of that kind."""
    return field in ("aside", "", "set") or key == seen[field] or key in ("kg", "lb", "lbs")


def _numbers_of_sets(found: list[str], columns: list[list[str]], rows: Sequence[Sequence[str]]) -> None:
    """A column "set" beside reps: whole numbers count sets, or number them from 1 upwards; larger ones are loads."""
    elsewhere = "load" in found or found.count("set") > 1
    for i, field in enumerate(found):
        if field == "set" and "reps" in found and all(map(is_count, columns[i])):
            counts = "sets" not in found and not numbers_sets(columns[i]) and found.count("set") == 1
            found[i] = "sets" if counts else "aside"
        elif field == "set" and "load" not in found and "reps" in found and all(map(is_number, columns[i])):
            found[i] = "load?"
        elif field == "set" and columns[i] and elsewhere and not any(map(may_be_set, columns[i])):
            found[i] = ""  # titles of workouts and their like
    found[:] = ["load" if field == "load?" else field for field in found]


def _bodies(found: list[str], columns: list[list[str]]) -> None:
    """In a table of bodies "weight" is body mass; in a log of lifts a "height" that no body has is a block's."""
    lifts = bool(TRAINING & set(found)) or any(":" in field for field in found)
    if not lifts and (set(MEASURE_FIELDS) | {"arm"}) & set(found) and MASS not in found and found.count("load") == 1:
        found[found.index("load")] = MASS
    for i, field in enumerate(found):
        if field == "stature" and lifts and columns[i] and not any(fits_measure("stature", c) for c in columns[i]):
            found[i] = "start_height"


def _unnamed(found: list[str], columns: list[list[str]]) -> None:
    """Columns under headings that say nothing, whose cells all are what is missing: sets and reps, days, lifts."""
    missing: tuple[tuple[str, set[str], Callable[[str], bool]], ...] = (
        ("set", {"set", "reps"}, is_scheme),
        ("date", {"date"}, looks_like_date),
        ("lift", {"lift"}, _is_lift),
        ("unit", {"unit"}, lambda c: tidy(c).casefold() in UNIT_WORDS - {"r"}),
    )
    for field, there, fits in missing:
        for i, cells in enumerate(columns):
            if not found[i] and cells and not there & set(found) and all(map(fits, cells)):
                found[i] = field


__all__ = [
    "ALIASES", "EXPORT", "LABELS", "field_of", "heading_key", "heading_unit", "is_header", "is_header_again",
    "is_second_header", "map_by_content", "map_header", "merged_header", "unit_of_column", "unit_word",
]  # fmt: skip
