"""A log in one text file with measurements in its first lines, for the command line: no database is asked.

The table is read by `athletes.reader`, as an import reads it; lines that leave something open are named, not guessed.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from analysis.core.records import terms
from analysis.core.records.lifts import LifterRecord, PullTags, SetRecord
from analysis.core.records.plain import CoreError
from athletes.reader import Context, read
from athletes.reader.cells.numbers import tidy
from athletes.reader.file import detect_format
from athletes.reader.layout import columns_of
from athletes.reader.names import People, Person
from athletes.reader.notes import ASK, SKIP, Refused
from athletes.reader.plan import ReadingPlan, date_ways
from athletes.schema.fields import FieldSpec, specs
from athletes.schema.vocabulary import Start

COLUMNS = """
The file starts with lines that describe the lifter, each "# name: value":
  # sex: m or f (needed)            # standing: beginner, trained, returning, under-18 (trained)
  # age: years                      # as_of: date of the reading (the last date in the file)
  # mass: kg                        # next_meet: date          # pain_noted: yes or no
  # stature: cm (needed)            and any other measurement in cm, such as # trochanterion_height: 90.5
Then a table with a heading line, read as an import reads it (docs/formats.md lists the headings it knows). A line that
cannot be read without an answer is named with its reason and left out; the others count.
"""
LIFTER = 1  # the only one of the file
OFFSET_SIGN = {Start.BLOCK: 1.0, Start.DEFICIT: -1.0}
NO_MEASUREMENT = ("sex", "age", "standing", "as_of", "next_meet", "pain_noted", "name", "mass")


class UnreadableLog(CoreError):
    """A file without what the reading needs; `quantity` names the line or column."""


@dataclass(frozen=True, slots=True)
class FileLog:
    """The lifter of a file, the date of the reading, and the lines left out with their reasons."""

    lifter: LifterRecord
    as_of: date
    skipped: tuple[str, ...]


def read_file_log(path: Path, today: date) -> FileLog:
    """Lifter and sets of a file; UnreadableLog when the description or the table cannot be used."""
    with path.open(encoding="utf-8-sig") as lines:
        described = _description(lines)
    try:
        sets, skipped = _sets(path, described.get("name", "lifter"), today)
    except Refused as refused:
        raise UnreadableLog("file", str(refused)) from None
    as_of = _date("as_of", described["as_of"]) if described.get("as_of") else max((s.day for s in sets), default=None)
    if as_of is None:
        raise UnreadableLog("file", "no line could be read: " + "; ".join(skipped[:3]))
    return FileLog(_lifter(described, sets), as_of, tuple(skipped))


def _description(lines: Iterable[str]) -> dict[str, str]:
    found = {}
    for line in lines:
        if line.startswith("#"):
            name, colon, value = line.lstrip("# ").partition(":")
            if colon:
                found[name.strip().lower().replace(" ", "_")] = tidy(value).strip(" ,;\t")
    for needed in ("sex", "stature"):
        if needed not in found:
            raise UnreadableLog(needed, f'the file needs a line "# {needed}: ..." before the heading line')
    return found


def _sets(path: Path, name: str, today: date) -> tuple[list[SetRecord], list[str]]:
    """The sets of the table, and each line that gave none with its reason."""
    made = detect_format(path)
    columns = columns_of(path, made, one_lifter=True)
    plan = ReadingPlan(
        headings=tuple(columns.headings),
        mapping=tuple(columns.mapping),
        units=tuple(columns.units),
        people=People.of([Person(LIFTER, name, "kg")]),
        dates=date_ways("", {}, today),
        athlete=LIFTER,
    )
    sets: list[SetRecord] = []
    skipped: list[str] = []
    for line in read(path, Context(plan, made)):
        number, reading = line.record.line, line.reading
        if reading.sets and reading.status not in (ASK, SKIP):
            sets += [_record(f"line-{number}-{i}", row) for i, row in enumerate(reading.sets, start=1)]
        elif number > made.heading_line and (reading.status != SKIP or reading.reason):
            skipped.append(f"line {number}: {reading.reason}")
    return sets, skipped


def _record(key: str, row: Mapping[str, Any]) -> SetRecord:
    """A set as the reader gives it, by the names of columns, as the core's record."""
    given = _given(specs(PullTags), row)
    given["start_offset_m"] = given.get("start_offset_m", 0.0) * OFFSET_SIGN.get(given.get("start", ""), 0.0)
    own = _given(specs(SetRecord), row) | {"day": date.fromisoformat(row["day"]), "rir_high": row.get("rir_high")}
    return SetRecord(key=key, tags=PullTags(**given), **own)


def _given(fields: Mapping[str, FieldSpec], row: Mapping[str, Any]) -> dict[str, Any]:
    """What a row holds of some described fields, cm as m."""
    found = {name: row[spec.column] for name, spec in fields.items() if row.get(spec.column) is not None}
    return {name: value / 100.0 if fields[name].column.endswith("_cm") else value for name, value in found.items()}


def _lifter(described: Mapping[str, str], sets: list[SetRecord]) -> LifterRecord:
    if described["sex"] not in ("m", "f"):
        raise UnreadableLog("sex", f"{described['sex']!r} is neither m nor f")
    standing = described.get("standing", "trained")
    if standing not in terms.STANDINGS:
        raise UnreadableLog("standing", f"{standing!r} is none of {', '.join(terms.STANDINGS)}")
    pain = described.get("pain_noted", "no").lower()
    if pain not in ("yes", "no"):
        raise UnreadableLog("pain_noted", f"{pain!r} is neither yes nor no")
    measured = {k: _number(k, v) / 100.0 for k, v in described.items() if k not in NO_MEASUREMENT}
    if described.get("mass"):
        measured["mass"] = _number("mass", described["mass"])
    pulls = [s.tags.style for s in sets if s.tags.lift == "deadlift" and s.tags.style]
    return LifterRecord(
        key=described.get("name", "lifter"),
        sex=described["sex"],
        age=_number("age", described["age"]) if described.get("age") else None,
        standing=standing,
        measurements_m=measured,
        pain_noted=pain == "yes",
        trained_styles=tuple(dict.fromkeys(pulls)),
        sets=tuple(sets),
        next_meet=_date("next_meet", described["next_meet"]) if described.get("next_meet") else None,
    )


def _number(name: str, text: str) -> float:
    try:
        value = float(text)
    except ValueError:
        raise UnreadableLog(name, f"{text!r} is not a number") from None
    if not 0.0 < value < 1000.0:
        raise UnreadableLog(name, f"{text!r} is no measurement of a lifter")
    return value


def _date(name: str, text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise UnreadableLog(name, f"{text!r} is not a date such as 2026-03-04") from None
