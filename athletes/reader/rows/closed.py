"""Columns with a closed list of words: start, grip, back shape, miss position and their like."""

from functools import lru_cache

from athletes.reader.cells.lifts import read_kit, read_lift
from athletes.reader.cells.numbers import read_number
from athletes.reader.notes import ASK, Note, Notes
from athletes.reader.plan import ReadingPlan
from athletes.reader.rows.context import Cells
from athletes.schema.sets import set_specs

OWN_READERS = {"lift", "style", "result"}  # read from the words of a line, in `tags` and `outcome`
SPECS = {spec.file: spec for spec in set_specs().values() if spec.file not in OWN_READERS}
LISTS = {file: spec.term for file, spec in SPECS.items() if spec.term is not None}
FLAGS = {file for file, spec in SPECS.items() if spec.kind == "flag"}
NUMBERS = {
    **{file: (spec.column, *spec.limits) for file, spec in SPECS.items() if spec.kind == "number"},
    "order": ("order", 0.0, 9e6),
}
YES = {"yes", "y", "true", "1", "x", "ja", "oui", "sí", "si", "✓", "✔", "on", "w", "with"}
NO = {"no", "n", "false", "0", "nein", "non", "off", "-", "none", "without"}


def closed_columns(row: Cells, plan: ReadingPlan) -> tuple[dict[str, object], Notes]:
    """The columns with closed lists, flags and plain numbers; a word outside the list is asked about."""
    found: dict[str, object] = {}
    notes: Notes = ()
    for field in row.by_field:
        if field in LISTS:
            value, said = _listed(field, row.first(field))
        elif field in FLAGS:
            value, said = _flag(field, row.first(field))
        elif field in NUMBERS:
            value, said = _number(field, row.first(field), plan)
        else:
            continue
        notes += said
        if not said:
            found[NUMBERS[field][0] if field in NUMBERS else field] = value
    return found, notes


@lru_cache(maxsize=2_000)
def _listed(field: str, text: str) -> tuple[object, Notes]:
    folded = text.casefold()
    for value, label in LISTS[field].choices:
        if folded in (value, str(label).casefold(), value.replace("-", " ")):
            return value, ()
    tags = read_kit(text)[0] | dict(read_lift(text).tags)
    if field in tags:
        return tags[field], ()
    return None, (Note(ASK, f"“{text[:30]}” is not a known {field.replace('_', ' ')}"),)


def _flag(field: str, text: str) -> tuple[object, Notes]:
    folded = text.casefold()
    if folded in YES or folded in NO:
        return folded in YES, ()
    tags = read_kit(text)[0]
    if field in tags:
        return tags[field], ()
    return None, (Note(ASK, f"“{text[:30]}” in the column {field.replace('_', ' ')}: yes or no?"),)


def _number(field: str, text: str, plan: ReadingPlan) -> tuple[object, Notes]:
    name, low, high = NUMBERS[field]
    number = read_number(text, plan.decimal)
    if number.value is None or not low <= number.value <= high:
        return None, number.notes or (
            Note(ASK, f"{name.replace('_', ' ')} {text[:20]} is outside {low:g} to {high:g}"),
        )
    return int(number.value) if field == "order" else number.value, ()
