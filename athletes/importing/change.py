"""Reading a file another way than was found out, and putting an import away."""

from django.db import transaction

from athletes.importing.files.tables import forget_opened
from athletes.importing.files.upload import columns_of, options_of, remembered, signature
from athletes.importing.questions import begin_again
from athletes.models import ImportBatch
from athletes.reader.layout import units_of

Status = ImportBatch.Status


def change_make(batch: ImportBatch, given: dict[str, str]) -> None:
    """Another encoding, separator, sheet, decimal mark or date order; where that is refused nothing changes."""
    if given.get("sheet") and given["sheet"] != batch.options.get("sheet"):
        _ask_for_sheet(batch, given)
        return
    made, marks = batch.options["format"], marks_of(batch, given)
    anew = any(given.get(k) is not None and given[k] != made[k] for k in ("encoding", "separator"))
    options = dict(batch.options)
    if anew:
        known = {k: given[k] for k in ("encoding", "separator") if given.get(k) is not None}
        options = options_of(batch, known) | {"turn": options["turn"]}
    else:
        options = {k: v for k, v in options.items() if k not in MARKS}
    options |= marks
    with transaction.atomic():
        now = ImportBatch.objects.select_for_update().get(pk=batch.pk)
        if anew:
            now.rows.all()._raw_delete(using=now._state.db)
        now.options = options
        begin_again(now)


MARKS = ("decimal_given", "date_order_given")


def marks_of(batch: ImportBatch, given: dict[str, str]) -> dict[str, object]:
    """The decimal mark and date order that were chosen; what was only found out is left to be found out again."""
    known = {"decimal_given": "decimal", "date_order_given": "date_order"}
    return {
        kept: given[name]
        for kept, name in known.items()
        if kept in batch.options or given[name] != batch.options.get(name)
    }


def _ask_for_sheet(batch: ImportBatch, given: dict[str, str]) -> None:
    """Open another sheet; what was read of the first one stays until the other is there."""
    with transaction.atomic():
        now = ImportBatch.objects.select_for_update().get(pk=batch.pk)
        now.status, now.reason, now.rows_read, now.rows_total = Status.STAGING, "", 0, 0
        job = int(now.options.get("job", 0)) + 1
        now.options |= {"phase": "open", "job": job, "sheet_asked": given["sheet"], "marks": marks_of(now, given)}
        now.save()


def change_columns(batch: ImportBatch, mapping: list[str]) -> None:
    """Other meanings of the columns; what was remembered about files with these headings is asked for again."""
    with transaction.atomic():
        now = ImportBatch.objects.select_for_update().get(pk=batch.pk)
        kept = now.options["mapping"]
        now.options["mapping"] = [
            "aside" if new == "" and old == "aside" else new for new, old in zip(mapping, kept, strict=True)
        ]
        now.options["units"] = units_of(now.options["headings"], now.options["mapping"])
        now.options["signature"] = signature(now.options["headings"], now.options["mapping"])
        now.options["answers"] = remembered(now, now.options) | now.options["answers"]
        begin_again(now)


def drop(batch: ImportBatch) -> bool:
    """Put an import away with its file and lines; never one whose sets are in the log."""
    with transaction.atomic():
        now = ImportBatch.objects.select_for_update().get(pk=batch.pk)
        if now.status in (Status.DONE, Status.MOVING, Status.UNDOING) or now.sets.exists() or now.visits.exists():
            return False
        name = now.file.name
        now.held_masses.all()._raw_delete(using=now._state.db)
        now.rows.all()._raw_delete(using=now._state.db)
        now.delete()
    if name:
        batch.file.storage.delete(name)
        forget_opened(name)
    return True


__all__ = ["change_columns", "change_make", "columns_of", "drop"]
