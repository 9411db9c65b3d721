"""Choices and typed fixes for single lines; a fixed line goes through the same reader as the file."""

from collections.abc import Iterable

from django.db import transaction

from athletes.importing.comparing.plan import plan_of
from athletes.importing.comparing.private import hold, holding, masked, masked_of, private_columns, unmasked
from athletes.importing.steps import lifter_of, parsed_of, typed_cells
from athletes.models import ImportBatch, ImportRow
from athletes.reader.file import FileFormat, Record
from athletes.reader.rows import Carry
from athletes.reader.table import read_line

Status = ImportBatch.Status
FOLLOWERS = 5_000


def choose(batch: ImportBatch, chosen: dict[int, str]) -> int:
    """Keep "take" or "skip" for lines; "" goes back to the plan. Returns how many lines changed."""
    changed = 0
    with transaction.atomic():
        for row in batch.rows.select_for_update().filter(number__in=chosen):
            choice = chosen[row.number]
            if choice == "" and row.fixed is not None:
                choice = "fix"
            if choice in ("", "take", "skip", "fix") and choice != row.choice:
                row.choice = choice
                row.save(update_fields=["choice"])
                changed += 1
    return changed


def fix(batch: ImportBatch, number: int, cells: list[str] | None) -> ImportRow:
    """Read a line anew from typed cells (None: as it stood in the file), and the lines that fill down from it."""
    plan, made = plan_of(batch), FileFormat(**batch.options["format"])
    fills = bool(batch.options.get("fills"))
    private = private_columns(batch.options)
    with transaction.atomic():
        now = ImportBatch.objects.select_for_update().get(pk=batch.pk)
        first = now.rows.select_for_update().get(number=number)
        first.choice = "fix" if cells is not None else ""
        carry = Carry(*(first.parsed or {}).get("carry", Carry()))
        for row in _followers(now, first, fills):
            if row.pk != first.pk and (row.parsed or {}).get("carry") == list(carry):
                break
            held = masked_of(now, [row.number]).get(row.number) if private else None
            stood = unmasked(row.raw, (held or {}).get("hidden"))
            fixed = typed_cells(cells if row.pk == first.pk else row.fixed, held)
            reading = read_line(Record(row.number, stood), plan, made, carry, fixed)
            row.parsed, row.status, row.reason = parsed_of(reading, carry, fills), reading.status, reading.reason
            row.lifter = lifter_of(reading)
            row.fixed = None if fixed is None else masked(fixed, private)
            row.save()
            if private:
                kept = holding(row.number, stood, fixed, reading.measures, private)
                hold(now, [kept], row.number, row.number)
            carry = reading.carry
        now.status = Status.STAGING
        now.options["phase"] = "compare"
        now.save()
    first.refresh_from_db()
    return first


def _followers(batch: ImportBatch, first: ImportRow, fills: bool) -> Iterable[ImportRow]:
    yield first
    if fills:
        yield from batch.rows.filter(number__gt=first.number).order_by("number")[:FOLLOWERS]
