"""Helpers for tests of the import: a text in, its batch out."""

from django.core.files.uploadedfile import SimpleUploadedFile

from athletes.importing.files.upload import begin
from athletes.importing.questions import answer
from athletes.importing.tasks import advance
from athletes.models import ImportBatch

LIMIT = 60 * 1024 * 1024


def read_in(cast, content, name="log.csv", answers=None, athlete=None) -> ImportBatch:
    """An import of the text or bytes, brought forward to its preview."""
    data = content if isinstance(content, bytes) else content.encode()
    batch = begin(cast.quarry, cast.stan, SimpleUploadedFile(name, data), LIMIT, athlete)
    batch = advance(batch.pk, 30)
    if answers:
        answer(batch, cast.stan, answers)
        batch = advance(batch.pk, 30)
    return batch


def outcome(batch: ImportBatch) -> list[tuple]:
    """Line number, status and reason of every line."""
    return list(batch.rows.order_by("number").values_list("number", "status", "reason"))


def sets_in(batch: ImportBatch) -> list[dict]:
    """All sets as they would go into the log."""
    return [one for row in batch.rows.order_by("number") for one in (row.parsed or {}).get("sets", [])]
