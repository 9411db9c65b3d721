"""Comparing a file that holds body measures: sets and readings of a line are judged together.

What a comparison changes of a line's standing is kept beside it under `was`, so that the next one begins anew.
"""

from collections.abc import Callable
from typing import Any

from django.db import connection, transaction
from django.db.models import Q

from athletes.importing.comparing.bodies import Finding, Findings, body_findings
from athletes.importing.comparing.plan import answers_for
from athletes.importing.comparing.private import whole
from athletes.models import ImportBatch, ImportRow
from athletes.reader.notes import GUESS, MOST_QUESTIONS

READ = (ImportRow.Status.OK, ImportRow.Status.GUESS)
CHUNK = 500
JUDGED = ("status", "reason", "parsed")
Parsed = dict[str, Any]


def compare_bodies(batch: ImportBatch, in_log: Callable[[Parsed], bool]) -> int:
    """Compare every line with the log and with the others; returns how many lines changed their standing."""
    rows = batch.rows.filter(Q(status__in=[*READ, ImportRow.Status.DUPLICATE]) | Q(parsed__has_key="was")).order_by(
        "number"
    )
    read = rows.filter(parsed__has_key="measures").values_list("pk", "number", "parsed")
    held = dict(batch.held_masses.values_list("number", "held"))
    lines = ((pk, number, whole(parsed, held.get(number))) for pk, number, parsed in read.iterator(chunk_size=CHUNK))
    found = body_findings(batch, lines)
    changed = after = 0
    while chunk := list(rows.filter(number__gt=after).defer("raw", "fixed")[:CHUNK]):
        after = chunk[-1].number
        changed += _judge_all(chunk, found, in_log)
    _keep_questions(batch, found.questions)
    return changed


def _judge_all(chunk: list[ImportRow], found: Findings, in_log: Callable[[Parsed], bool]) -> int:
    """Judge some lines and keep those that changed, in a commit of their own."""
    changed, standing = [], 0
    for row in chunk:
        before = (row.status, row.reason, row.parsed)
        _begin_again(row)
        parsed = dict(row.parsed or {})
        known = [i for i, one in enumerate(parsed.get("sets", [])) if in_log(one)]
        _judge(row, parsed, known, found.by_row.get(row.pk, Finding()))
        if before != (row.status, row.reason, row.parsed):
            changed.append(row)
        standing += before[:2] != (row.status, row.reason)
    with transaction.atomic():
        _update(changed)
    return standing


def _update(rows: list[ImportRow]) -> None:
    """Write what was judged, one plain statement a line: hardly a line of a log with a body mass stays as it was."""
    columns = [column for column in ImportRow._meta.concrete_fields if column.name in JUDGED]
    sets = ", ".join(f"{connection.ops.quote_name(str(field.column))} = %s" for field in columns)
    ready = [[f.get_db_prep_save(getattr(row, f.name), connection) for f in columns] + [row.pk] for row in rows]
    with connection.cursor() as cursor:
        if ready:
            table = connection.ops.quote_name(ImportRow._meta.db_table)
            cursor.executemany(f"UPDATE {table} SET {sets} WHERE id = %s", ready)  # noqa: S608


def _begin_again(row: ImportRow) -> None:
    """The line as it was read, before anything was compared."""
    parsed = dict(row.parsed or {})
    if "was" in parsed:
        row.status, row.reason = parsed.pop("was")
    row.parsed = {k: v for k, v in parsed.items() if k not in ("known", "left")} or None


def _judge(row: ImportRow, parsed: Parsed, known: list[int], finding: Finding) -> None:
    sets, measures = list(parsed.get("sets", [])), list(parsed.get("measures", []))
    said = [reason for _, reason in finding.left.values()]
    if known and (len(known) < len(sets) or measures):
        said = [f"{len(known)} of {len(sets)} sets are in the log already", *said]
    fresh = len(sets) - len(known) + len(measures) - len(finding.left)
    was = [row.status, row.reason]
    if finding.asks:
        row.status, said = ImportRow.Status.ASK, [*finding.asks, *said]
    elif not fresh and known:
        row.status, said = ImportRow.Status.DUPLICATE, ["already in the log", *said[bool(measures) :]]
    elif not fresh and (sets or measures):
        row.status = ImportRow.Status.SKIP
    elif known or any(level in (GUESS, "known") for level, _ in finding.left.values()):
        row.status = ImportRow.Status.GUESS
    row.reason = "; ".join(dict.fromkeys([*said, *([row.reason] if row.reason else [])]))[:300]
    if [row.status, row.reason] != was:
        parsed["was"] = was
    if known:
        parsed["known"] = known
    if finding.left:
        parsed["left"] = sorted(finding.left)
    row.parsed = parsed or None


def _keep_questions(batch: ImportBatch, questions: dict[str, dict[str, object]]) -> None:
    """The questions of this comparison instead of those of the last one; open ones first where they are too many."""
    answered = answers_for(batch)
    ordered = sorted(questions.items(), key=lambda item: item[0] in answered)
    with transaction.atomic():
        now = ImportBatch.objects.select_for_update().get(pk=batch.pk)
        others = {k: v for k, v in dict(now.options.get("questions", {})).items() if not k.startswith("jump|")}
        room = max(MOST_QUESTIONS - len(others), 0)
        now.options["questions"] = others | dict(ordered[:room])
        now.save(update_fields=["options"])
