"""Sets as a plain table: text that a spreadsheet could take for a formula is guarded, numbers stay numbers.

The table holds what was lifted. Body mass, weight class, points and moments are not in it: each of them tells or
reveals what somebody weighs.
"""

import csv
import re
from collections.abc import Iterable, Iterator

from athletes.models import LiftSet
from athletes.reader.columns import EXPORT
from athletes.reader.rows.context import FORMULA_STARTS, UNSEEN

NUMBER = re.compile(r"[-+]?\d+([.,]\d+)?")
MARK = "\ufeff"  # spreadsheets then read the accents of names


def guarded(text: str) -> str:
    """Text with an apostrophe before what could start a formula; plain numbers, negative ones too, stay as they are."""
    first = text.lstrip("'" + UNSEEN)[:1]
    looks_guarded = text.startswith("'") and first.isdigit()  # its own apostrophe would be taken off on the way back
    if looks_guarded or (first and first in FORMULA_STARTS and not NUMBER.fullmatch(text)):
        return f"'{text}"
    return text


def cell(value: object) -> str:
    """A value as text that reads back as the same value."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return str(int(value)) if value == int(value) else repr(value)
    return guarded(str(value))


def row_of(one: LiftSet, name: str) -> list[str]:
    """One set as cells in the order of the headings."""
    own = {"lifter": name, "bar name": one.bar.name if one.bar else ""}
    values = {heading: own.get(heading, getattr(one, field) if field else "") for heading, field in EXPORT}
    if not one.effort_typed and one.rir_low is not None:
        values["effort"] = _reserve(one)
    if not one.start_typed and one.start_cm:
        values |= {"start height": float(one.start_cm), "start height unit": "cm"}
    return [cell(values[heading]) for heading, _ in EXPORT]


def _reserve(one: LiftSet) -> str:
    high = one.rir_high if one.rir_high is not None else one.rir_low
    return f"RIR {one.rir_low:g}" if high == one.rir_low else f"RIR {one.rir_low:g}-{high:g}"


class _Echo:
    def write(self, text: str) -> str:
        return text


def table(sets: Iterable[LiftSet]) -> Iterator[str]:
    """The table line by line; `sets` come with their athlete and bar."""
    writer = csv.writer(_Echo(), lineterminator="\r\n")
    yield MARK + writer.writerow([heading for heading, _ in EXPORT])
    for one in sets:
        yield writer.writerow(row_of(one, one.athlete.name))
