"""The lines of an import as they are shown: the words of what was read are made from what the move will take."""

from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import QuerySet

from ..models import Athlete, ImportBatch, ImportRow
from ..models.choices import Lift, Result, Style
from .csv_reader import ENCODINGS, SEPARATORS
from .outcome import FIXED, SKIPPED, TAKEN, outcome_word, sets_to_take

READ = (ImportRow.Status.OK, ImportRow.Status.GUESS)
STANDINGS = {
    "": "all lines",
    "ask": "need an answer or a fix",
    "guess": "read with a guess",
    "duplicate": "in the log already",
    "skip": "no data or refused",
    "ok": "clear",
    "taken": "will be taken",
    "fixed": "fixed by hand",
    "skipped": "will be skipped",
}


@dataclass(frozen=True)
class Show:
    """Which lines of an import are shown."""

    value: str

    @property
    def choices(self) -> list[tuple[str, str]]:
        return list(STANDINGS.items())

    def rows(self, batch: ImportBatch) -> QuerySet[ImportRow]:
        """The chosen lines in the order of the file."""
        rows = batch.rows.order_by("number")
        by_outcome = {"taken": TAKEN, "fixed": FIXED, "skipped": SKIPPED}
        if self.value in by_outcome:
            return rows.filter(by_outcome[self.value])
        return rows.filter(status=self.value) if self.value else rows


def standing_filter(asked: str) -> Show:
    """The filter asked for; all lines when there is no such filter."""
    return Show(asked if asked in STANDINGS else "")


@dataclass(frozen=True)
class Line:
    """One line as shown: its number, cells, what was read, what becomes of it and why."""

    number: int
    status: str
    standing: str
    outcome: str
    cells: list[str]
    typed: bool
    sets: list[str]
    reason: str
    choice: str
    can_take: bool
    can_skip: bool


def lines_of(rows: Iterable[ImportRow], batch: ImportBatch) -> list[Line]:
    """Rows for a page."""
    listed = list(rows)
    pks = {found["athlete"] for row in listed for found in (row.parsed or {}).get("sets", [])}
    names = dict(Athlete.objects.filter(pk__in=pks, club=batch.club_id).values_list("pk", "name"))
    return [_line(row, names) for row in listed]


def _line(row: ImportRow, names: dict[int, str]) -> Line:
    whole = list((row.parsed or {}).get("sets", []))
    sets = sets_to_take(row.parsed, row.choice) or whole
    return Line(
        number=row.number,
        status=row.status,
        standing=row.get_status_display(),
        outcome=outcome_word(row),
        cells=row.fixed or row.raw,
        typed=row.fixed is not None,
        sets=grouped([set_words(found, names) for found in sets]),
        reason=row.reason,
        choice=row.choice,
        can_take=row.status == ImportRow.Status.DUPLICATE,
        can_skip=row.status in READ,
    )


def grouped(words: list[str]) -> list[str]:
    """Equal sets in a row as one with a count."""
    found: list[tuple[str, int]] = []
    for word in words:
        if found and found[-1][0] == word:
            found[-1] = (word, found[-1][1] + 1)
        else:
            found.append((word, 1))
    return [word if count == 1 else f"{count} times: {word}" for word, count in found]


def set_words(found: dict[str, object], names: dict[int, str]) -> str:
    """A set as it will stand in the log."""
    lift = Lift(str(found.get("lift", "deadlift"))).label
    style = found.get("style")
    named = f"{lift}, {Style(str(style)).label}" if style else lift
    made, tried = found["reps_made"], found["reps_tried"]
    reps = f"{made}" if made == tried else f"{made} of {tried}"
    load = f"{found['load_typed']} {found['load_unit']}"
    if found["load_unit"] == "lb":
        load += f" ({float(str(found['load_kg'])):.1f} kg)"
    who = names.get(int(str(found["athlete"])), "somebody who is not here any more")
    parts = [who, str(found["day"]), named, f"{load} x {reps}", Result(str(found["result"])).label, *_tags(found)]
    return ", ".join(parts)


def _tags(found: dict[str, object]) -> list[str]:
    words = [f"effort {found['effort_typed']}"] if found.get("effort_typed") else []
    if found.get("start", "floor") != "floor":
        words.append(f"{found['start']} {found.get('start_typed', '')} {found.get('start_unit', '')}".strip())
    words += [name for name in ("straps", "belt", "suit", "paused") if found.get(name)]
    words += [str(found[name]) for name in ("grip", "bar_kind") if found.get(name, "unknown") != "unknown"]
    return words


def make_words(batch: ImportBatch) -> list[str]:
    """How the file was read, in words."""
    options = batch.options
    made = options.get("format")
    if not made:
        return []
    encoding = ENCODINGS.get(made["encoding"], made["encoding"])
    written = [encoding, f"separator: {SEPARATORS.get(made['separator'], made['separator'])}"]
    words = [f"sheet “{options['sheet']}”"] if options.get("sheets") else written
    if options.get("macros"):
        words.append("the workbook's macros are left alone: only the cells are read")
    if options.get("unworked"):
        words.append("the workbook holds formulas without their results; open it, save it and upload it again")
    words.append(
        f"headings on line {made['heading_line']}"
        if made["heading_line"]
        else "no headings: columns told from their cells"
    )
    if not made["quotes"]:
        words.append("quotation marks taken as plain characters, because one is never closed")
    words.append(
        {",": "decimal comma", ".": "decimal point"}.get(str(options.get("decimal", "")), "decimal mark: either")
    )
    words.append(
        {"dmy": "day before month", "mdy": "month before day"}.get(
            str(options.get("date_order", "")), "order of day and month not told by the file"
        )
    )
    return words
