"""Reading a file another way than was found out, and putting an import away."""

from pathlib import Path

from django.db import transaction

from ...models import ImportBatch
from ..questions import begin_again
from ..xlsx import is_zip
from .upload import columns_of, options_of, remembered, signature, table_path

Status = ImportBatch.Status


def change_make(batch: ImportBatch, given: dict[str, str]) -> None:
    """Another encoding, separator, sheet, decimal mark or date order; raises Refused and changes nothing if "
    "it fails."""
    made = batch.options["format"]
    anew = any(given.get(k) is not None and given[k] != made[k] for k in ("encoding", "separator"))
    anew = anew or (bool(given.get("sheet")) and given["sheet"] != batch.options.get("sheet"))
    options = dict(batch.options)
    if anew:
        known = {k: given[k] for k in ("encoding", "separator", "sheet") if given.get(k) is not None}
        options = options_of(batch, known) | {"turn": batch.options["turn"], "fresh": True}
    options |= {"decimal_given": given["decimal"], "date_order_given": given["date_order"]}
    if given["decimal"] == batch.options.get("decimal") and "decimal_given" not in batch.options:
        del options["decimal_given"]
    if given["date_order"] == batch.options.get("date_order") and "date_order_given" not in batch.options:
        del options["date_order_given"]
    with transaction.atomic():
        now = ImportBatch.objects.select_for_update().get(pk=batch.pk)
        if anew:
            now.rows.all()._raw_delete(using=now._state.db)
        now.options = options
        begin_again(now)


def change_columns(batch: ImportBatch, mapping: list[str]) -> None:
    """Other meanings of the columns; what was remembered about files with these headings is asked for again."""
    with transaction.atomic():
        now = ImportBatch.objects.select_for_update().get(pk=batch.pk)
        kept = now.options["mapping"]
        now.options["mapping"] = [
            "aside" if new == "" and old == "aside" else new for new, old in zip(mapping, kept, strict=True)
        ]
        now.options["signature"] = signature(now.options["headings"], now.options["mapping"])
        now.options["answers"] = remembered(now, now.options) | now.options["answers"]
        begin_again(now)


def drop(batch: ImportBatch) -> bool:
    """Put an import away with its file and lines; never one whose sets are in the log."""
    with transaction.atomic():
        now = ImportBatch.objects.select_for_update().get(pk=batch.pk)
        if now.status in (Status.DONE, Status.MOVING) or now.sets.exists():
            return False
        path = Path(now.file.path) if now.file else None
        table = table_path(now) if now.file and path and path.exists() and is_zip(path) else None
        now.staged_sets.all()._raw_delete(using=now._state.db)
        now.rows.all()._raw_delete(using=now._state.db)
        now.delete()
    if table:
        table.unlink(missing_ok=True)
    if path:
        path.unlink(missing_ok=True)
    return True


__all__ = ["change_columns", "change_make", "columns_of", "drop"]
