"""The lines of an import as they are shown: the words of what was read are made from what the move will take."""

from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import QuerySet

from athletes.access.permissions import may_see_mass
from athletes.importing.comparing.private import masked_of, whole
from athletes.importing.moving.outcome import FIXED, SKIPPED, TAKEN, measures_to_take, outcome_word, sets_to_take
from athletes.models import Athlete, ImportBatch, ImportRow, User
from athletes.models.choices import Lift, Result, Style
from athletes.reader.file import ENCODINGS, SEPARATORS
from athletes.reader.headings import measures_in
from athletes.reader.rows.context import blocks_of
from athletes.schema.measurements import MeasureKey as Key
from athletes.schema.measurements import measure_label
from athletes.units.lengths import show

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
    measures: list[str]
    reason: str
    choice: str
    can_take: bool
    can_skip: bool


@dataclass(frozen=True)
class Viewer:
    """Names for the reader of a page, and the athletes whose body mass they may see."""

    names: dict[int, str]
    masses: frozenset[int]


def lines_of(rows: Iterable[ImportRow], batch: ImportBatch, user: User) -> list[Line]:
    """Rows for a page of this reader."""
    listed = list(rows)
    if measures_in(batch.options.get("mapping", [])):
        held = masked_of(batch, (row.number for row in listed))
        for row in listed:
            row.parsed = whole(row.parsed, held.get(row.number))
    found = [one for row in listed for kind in ("sets", "measures") for one in (row.parsed or {}).get(kind, [])]
    athletes = Athlete.objects.filter(pk__in={one["athlete"] for one in found}, club=batch.club_id)
    viewer = Viewer(
        {a.pk: a.name for a in athletes}, frozenset(a.pk for a in athletes if may_see_mass(user, a))
    )  # fmt: skip
    return [_line(row, viewer) for row in listed]


def _line(row: ImportRow, viewer: Viewer) -> Line:
    whole = list((row.parsed or {}).get("sets", []))
    sets = sets_to_take(row.parsed, row.choice) or whole
    measures = measures_to_take(row.parsed) or list((row.parsed or {}).get("measures", []))
    return Line(
        number=row.number,
        status=row.status,
        standing=row.get_status_display(),
        outcome=outcome_word(row),
        cells=row.fixed or row.raw,
        typed=row.fixed is not None,
        sets=grouped([set_words(found, viewer.names) for found in sets]),
        measures=[measure_words(found, viewer) for found in measures],
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


def measure_words(found: dict[str, object], viewer: Viewer) -> str:
    """A reading as it will stand in the log; a body mass only for who may see it."""
    athlete, key = int(str(found["athlete"])), str(found["key"])
    who = viewer.names.get(athlete, "somebody who is not here any more")
    if key == Key.MASS and (athlete not in viewer.masses or "value" not in found):
        return f"{who}, {found['day']}, body mass (private)"
    value = show(key, float(str(found["value"])))
    plain = value in (str(found["typed"]), f"{found['typed']} {found['unit']}")
    typed = "" if plain else f", typed “{found['typed']}”"
    return f"{who}, {found['day']}, {measure_label(key)} {value}{typed}"


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
    words += _heading_words(made)
    if not made["quotes"]:
        words.append("quotation marks taken as plain characters, because one is never closed")
    words.append(
        {",": "decimal comma", ".": "decimal point"}.get(str(options.get("decimal", "")), "decimal mark: either")
    )
    words.append(
        {"dmy": "day before month", "mdy": "month before day", "ymd": "year first"}.get(
            str(options.get("date_order", "")), "order of day and month not told by the file"
        )
    )
    return words


def _heading_words(made: dict[str, object]) -> list[str]:
    if made.get("is_turned"):
        return [f"headings in column {made['heading_line']}: each column is read as a line, numbered from the left"]
    if made.get("heading_top"):
        return [f"headings on lines {made['heading_top']} and {made['heading_line']}"]
    if made["heading_line"]:
        return [f"headings on line {made['heading_line']}"]
    return ["no headings: columns told from their cells"]


def left_words(batch: ImportBatch) -> list[str]:
    """What of the file nothing is read from: columns that are left aside, and other sheets."""
    options = batch.options
    mapping, headings = list(options.get("mapping", [])), list(options.get("headings", []))
    aside = [
        headings[i].strip() if i < len(headings) and headings[i].strip() else f"column {i + 1}"
        for i, field in enumerate(mapping)
        if field in ("", "aside") and (not headings or (i < len(headings) and headings[i].strip()))
    ]
    words = [f"Left aside: {', '.join(aside[:12])}{' and more' if len(aside) > 12 else ''}."] if aside else []
    others = [name for name in options.get("sheets") or [] if name != options.get("sheet")]
    if others:
        words.append(
            f"Only the sheet “{options.get('sheet')}” is read; the workbook also has {', '.join(others[:12])}. "
            "Upload it again for another sheet, or choose that below."
        )
    blocks = len(blocks_of(tuple(mapping)))
    return (
        [*words, f"{blocks} tables stand side by side; every line is read for each of them."] if blocks > 1 else words
    )
