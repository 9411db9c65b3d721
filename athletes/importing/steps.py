"""Steps that read an import: look through the file, read its lines, compare them with the log.

Every step works in small commits and begins where the last one ended, so its process may stop between any two of them.
"""

import time
from itertools import islice

from django.db import transaction
from django.utils import timezone

from athletes.importing.comparing.compare import compare, revisions_of
from athletes.importing.comparing.plan import plan_of
from athletes.importing.comparing.private import Held, hold, holding, masked, private_columns, unmasked, without_values
from athletes.importing.files.tables import table_path
from athletes.importing.files.upload import unless_contradicted
from athletes.importing.look import look
from athletes.importing.moving.cursor import locked_if_unmoved, pause_between_commits
from athletes.models import ImportBatch, ImportRow
from athletes.models.bulk import Bulk
from athletes.reader import Context, Line, read
from athletes.reader.file import FileFormat
from athletes.reader.notes import MOST_QUESTIONS
from athletes.reader.rows import Carry, RowReading

CHUNK = 1_000
LINES = Bulk(ImportRow)
Status = ImportBatch.Status
Fixes = dict[int, tuple[str, list[str] | None]]


def look_through(batch: ImportBatch, until: float) -> None:
    found = look(batch)
    with transaction.atomic():
        now = locked_if_unmoved(batch)
        if now is not None:
            now.rows_total, now.rows_read = int(str(found.pop("rows"))), 0
            now.options |= found | {"phase": "read", "questions": {}, "line": 0, "carry": list(Carry())}
            if now.options.get("turn") == 1:
                now.options["answers"] = unless_contradicted(now)
            now.save()


def read_lines(batch: ImportBatch, until: float) -> None:
    fixes = _fixes(batch)
    context = Context(
        plan=plan_of(batch),
        made=FileFormat(**batch.options["format"]),
        after=int(batch.options["line"]),
        carry=Carry(*batch.options["carry"]),
        typed={number: cells for number, (_, cells) in fixes.items() if cells is not None},
        from_workbook=bool(batch.options.get("sheets")),
    )
    lines = iter(read(table_path(batch), context))
    while True:
        chunk = list(islice(lines, CHUNK))
        updated = _keep(batch, chunk, fixes, len(chunk) < CHUNK)
        if updated is None or len(chunk) < CHUNK or time.monotonic() > until:
            return
        batch = updated
        pause_between_commits()


def _fixes(batch: ImportBatch) -> Fixes:
    """Choices and typed fixes that were made before the file was read again."""
    if not batch.options.get("again"):
        return {}
    rows = batch.rows.filter(number__gt=batch.options["line"]).exclude(choice="")
    kept = {number: (choice, fixed) for number, choice, fixed in rows.values_list("number", "choice", "fixed")}
    private = private_columns(batch.options)
    held = dict(batch.held_masses.values_list("number", "held")) if private and kept else {}
    return {number: (choice, typed_cells(fixed, held.get(number))) for number, (choice, fixed) in kept.items()}


def typed_cells(fixed: list[str] | None, held: Held | None) -> list[str] | None:
    """The cells that were typed for a line, with what the masks hide."""
    return None if fixed is None else unmasked(fixed, (held or {}).get("typed"), (held or {}).get("hidden"))


def parsed_of(reading: RowReading, was: Carry, fills: bool) -> dict[str, object] | None:
    """What of a reading is kept with its row; what stood above it only where cells are filled downwards."""
    parsed: dict[str, object] = {"sets": reading.sets} if reading.sets else {}
    if reading.measures:
        parsed |= {"measures": without_values(reading.measures), "athlete": reading.measures[0]["athlete"]}
    if fills:
        parsed["carry"] = list(was)
    return parsed or None


def lifter_of(reading: RowReading) -> int | None:
    """The athlete of all sets and readings of a line; 0 where they have several, None where there are none."""
    found = {int(str(one["athlete"])) for one in (*reading.sets, *reading.measures)}
    return (found.pop() if len(found) == 1 else 0) if found else None


def _keep(batch: ImportBatch, chunk: list[Line], fixes: Fixes, last: bool) -> ImportBatch | None:
    fills = bool(batch.options.get("fills"))
    private = private_columns(batch.options)
    rows: list[dict[str, object]] = []
    for record, reading, was in chunk:
        choice, fixed = fixes.get(record.line, ("", None))
        rows.append(
            {
                "number": record.line,
                "lifter": lifter_of(reading),
                "raw": masked(record.cells, private),
                "parsed": parsed_of(reading, was, fills),
                "status": reading.status,
                "reason": reading.reason,
                "choice": choice,
                "fixed": None if fixed is None else masked(fixed, private),
            }
        )
    ready = LINES.ready(rows, {"batch": batch.pk})
    with transaction.atomic():
        now = locked_if_unmoved(batch)
        if now is None:
            return None
        if chunk and batch.options.get("again"):
            now.rows.filter(number__gt=batch.options["line"], number__lte=chunk[-1].record.line).delete()
        LINES.insert(ready)
        if chunk and private:
            held = [
                holding(r.line, r.cells, fixes.get(r.line, ("", None))[1], found.measures, private)
                for r, found, _ in chunk
            ]
            hold(now, held, batch.options["line"] + 1, chunk[-1].record.line)
        now.rows_read += len(rows)
        carry_after = chunk[-1].reading.carry if chunk else now.options["carry"]
        line = chunk[-1].record.line if chunk else now.options["line"]
        now.options |= {"line": line, "carry": list(carry_after), "phase": "compare" if last else "read"}
        now.options["questions"] = tally(now.options.get("questions", {}), chunk, private)
        now.save(update_fields=["rows_read", "options"])
    return now


def tally(
    questions: dict[str, dict[str, object]], chunk: list[Line], private: frozenset[int]
) -> dict[str, dict[str, object]]:
    """Questions with how many lines ask them and the first of those lines."""
    for record, reading, _ in chunk:
        for question, subject in reading.questions:
            key = f"{question}|{subject}"
            if key in questions:
                questions[key]["count"] = int(str(questions[key]["count"])) + 1
            elif len(questions) < MOST_QUESTIONS:
                shown = " | ".join(c.strip() for c in masked(record.cells, private) if c.strip())
                questions[key] = {"count": 1, "line": record.line, "example": shown[:120]}
    return questions


def compare_lines(batch: ImportBatch, until: float) -> None:
    compared, revisions = timezone.now(), revisions_of(batch)
    compare(batch)
    with transaction.atomic():
        now = locked_if_unmoved(batch)
        if now is not None:
            now.status = Status.READY
            now.options |= {"phase": "", "revisions": revisions, "compared": compared.isoformat()}
            now.save()
