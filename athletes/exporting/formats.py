"""The tables of docs/formats.md that describe columns, made from the schema: what leaves and what is read back."""

from __future__ import annotations

from pathlib import Path

from athletes.reader.headings import EXPORT
from athletes.schema.fields import FieldSpec
from athletes.schema.measurements import MEASUREMENTS
from athletes.schema.sets import set_specs

PAGE = Path(__file__).resolve().parents[2] / "docs/formats.md"
BESIDE = {  # columns of the table that are no field of a set's description
    "order": "place of the set within its day",
    "lifter": "the athlete's name",
    "bar name": "the name of the club's own bar",
    "note": "the note on the set",
}
OF_A_FIELD = {"unit": "kg or lb, as typed", "start height unit": "cm or in, as typed"}  # beside what was typed
KINDS = {
    "flag": "yes or no",
    "day": "year-month-day",
    "load": "the load as it was typed",
    "effort": 'RPE or reps in reserve as typed; "RIR 2" where only a tap was logged',
    "height": "the height as it was typed",
    "text": "text",
}


def columns_table() -> str:
    """The columns of the table of sets in their order: heading, what it holds, and further headings that are read."""
    by_heading = {spec.heading: spec for spec in set_specs().values()}
    rows: list[tuple[str, ...]] = [("heading", "what it holds", "also read as"), ("---", "---", "---")]
    for heading, _ in EXPORT:
        spec = by_heading.get(heading)
        if spec is None:
            rows.append((heading, BESIDE.get(heading) or OF_A_FIELD[heading], ""))
        else:
            rows.append((heading, holds(spec), ", ".join(h.replace("-", " ") for h in spec.headings[1:6])))
    return _lines(rows)


def measures_table() -> str:
    """The body measurements: words, what is possible (cm; kg for body mass), and headings that are read."""
    rows: list[tuple[str, ...]] = [("measurement", "possible", "headings, among others"), ("---", "---", "---")]
    for one in MEASUREMENTS:
        low, high = one.limits.possible
        unit = "kg" if one.key == "mass" else "cm"
        rows.append((one.label, f"{low:g} to {high:g} {unit}", ", ".join(one.columns.split()[:5]).replace("-", " ")))
    return _lines(rows)


def holds(spec: FieldSpec) -> str:
    """What a column holds in words: terms, limits with their unit, or the kind of value."""
    if spec.term is not None:
        terms = ", ".join(str(term.value) for term in spec.term if term.value)
        return f"{spec.field.label}: {terms}"
    words = f"{spec.field.label}: {KINDS[spec.kind]}" if spec.kind in KINDS else spec.field.label
    if spec.field.low is None or spec.field.high is None or spec.kind == "effort":
        return words
    unit = f" {spec.field.unit.symbol}" if spec.field.unit is not None else ""
    return f"{words}, {spec.field.low:g} to {spec.field.high:g}{unit}"


def page_with_tables(page: str) -> str:
    """The page with each table anew between its marks, `<!-- name -->` and `<!-- end -->`."""
    for name, table in (("columns", columns_table()), ("measures", measures_table())):
        head, mark, rest = page.partition(f"<!-- {name} -->\n")
        _, end, tail = rest.partition("<!-- end -->\n")
        if not mark or not end:
            raise ValueError(f"docs/formats.md has no place for the table of {name}")
        page = f"{head}{mark}{table}\n{end}{tail}"
    return page


def _lines(rows: list[tuple[str, ...]]) -> str:
    return "\n".join("|" + "|".join(f" {cell} " if cell != "---" else "---" for cell in row) + "|" for row in rows)
