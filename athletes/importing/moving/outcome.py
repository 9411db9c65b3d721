"""What becomes of each line: taken as it stands, taken as fixed, or skipped; every line is one of the three."""

from typing import Any

from django.db.models import Count, Q, QuerySet

from athletes.models import ImportBatch, ImportRow

S = ImportRow.Status
SKIPPED = Q(choice="skip") | Q(status__in=[S.ASK, S.SKIP]) | (Q(status=S.DUPLICATE) & ~Q(choice="take"))
FIXED = ~SKIPPED & Q(choice="fix")
TAKEN = ~SKIPPED & ~Q(choice="fix")


def sums(batch: ImportBatch) -> dict[str, int]:
    """Lines in, and how many of them are taken, fixed and skipped, with the standing of each."""
    counts = batch.rows.aggregate(
        rows=Count("pk"),
        taken=Count("pk", filter=TAKEN),
        fixed=Count("pk", filter=FIXED),
        skipped=Count("pk", filter=SKIPPED),
        guess=Count("pk", filter=Q(status=S.GUESS)),
        ask=Count("pk", filter=Q(status=S.ASK)),
        skip=Count("pk", filter=Q(status=S.SKIP)),
        duplicate=Count("pk", filter=Q(status=S.DUPLICATE)),
        ok=Count("pk", filter=Q(status=S.OK)),
    )
    return counts


def rows_to_take(batch: ImportBatch) -> QuerySet[ImportRow]:
    """The lines that go into the log, in the order of the file."""
    return batch.rows.filter(~SKIPPED).order_by("number")


def sets_to_take(parsed: dict[str, Any] | None, choice: str) -> list[dict[str, Any]]:
    """The sets of a line that go into the log: all, or those that are not there yet."""
    if not parsed:
        return []
    found = list(parsed.get("sets", []))
    known = set() if choice == "take" else set(parsed.get("known", []))
    return [one for i, one in enumerate(found) if i not in known]


def measures_to_take(parsed: dict[str, Any] | None) -> list[dict[str, Any]]:
    """The readings of a body that go into the log: those that are no second telling of another one."""
    if not parsed:
        return []
    left = set(parsed.get("left", []))
    return [one for i, one in enumerate(parsed.get("measures", [])) if i not in left]


def outcome_word(row: ImportRow) -> str:
    """What becomes of one line, in a word."""
    if row.choice == "skip" or row.status in (S.ASK, S.SKIP) or (row.status == S.DUPLICATE and row.choice != "take"):
        return "skipped"
    return "fixed" if row.choice == "fix" else "taken"
