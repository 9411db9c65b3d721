"""Which sets of a file are in the log already; two equal sets of one day stay two."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from sys import intern
from typing import Any

from django.db import transaction

from athletes.importing.comparing.compare_bodies import compare_bodies
from athletes.models import ImportBatch, ImportRow, LiftSet, Revision
from athletes.reader.headings import measures_in
from athletes.reader.notes import GUESS

Key = tuple[object, ...]
COLUMNS = ("athlete_id", "day", "lift", "load_kg", "reps_made", "reps_tried", "result", "start", "start_cm")
READ = (ImportRow.Status.OK, ImportRow.Status.GUESS)


def key_of(
    athlete: object,
    day: str,
    lift: object,
    kg: float,
    made: object,
    tried: object,
    result: object,
    start: object,
    cm: float,
) -> Key:
    """What two records of the same set share, loads to 0.1 kg."""
    return (athlete, day, lift, round(kg, 1), made, tried, result, start, round(cm, 1))


def staged_key(found: dict[str, object]) -> Key:
    """The key of a set as it was read from a file."""
    return key_of(
        found["athlete"], str(found["day"]), found.get("lift", "deadlift"), float(str(found["load_kg"])),
        found["reps_made"], found["reps_tried"], found["result"], found.get("start", "floor"),
        float(str(found.get("start_cm", 0.0))),
    )  # fmt: skip


class Log:
    """The styles of a club's sets by key, each to be matched once; equal words are one word, for the memory's sake."""

    def __init__(self, batch: ImportBatch) -> None:
        self.left: dict[Key, list[str]] = defaultdict(list)
        rows = (
            LiftSet.objects.filter(athlete__club=batch.club_id).exclude(batch=batch.pk).values_list(*COLUMNS, "style")
        )
        for athlete, day, *rest, style in rows.iterator(chunk_size=5_000):
            words: Iterator[Any] = (intern(value) if isinstance(value, str) else value for value in rest)
            self.left[key_of(athlete, intern(day.isoformat()), *words)].append(intern(style))

    def take(self, found: dict[str, object]) -> bool:
        """Whether this set is in the log; a style that either side leaves open matches any."""
        styles = self.left.get(staged_key(found))
        if not styles:
            return False
        wanted = str(found.get("style", ""))
        for style in (wanted, "") if wanted else ("", *styles):
            if style in styles:
                styles.remove(style)
                return True
        return False


def compare(batch: ImportBatch) -> int:
    """Mark the lines whose sets are in the log already; returns how many lines changed their standing."""
    log = Log(batch)
    measured = measures_in(batch.options.get("mapping", []))
    if not log.left and not measured and not batch.rows.filter(status=ImportRow.Status.DUPLICATE).exists():
        return 0
    if measured:
        return compare_bodies(batch, log.take)
    rows = batch.rows.filter(status__in=[*READ, ImportRow.Status.DUPLICATE]).order_by("number")
    here: list[int] = []
    gone: list[int] = []
    partly: list[tuple[int, list[int], int]] = []
    for pk, status, parsed in rows.values_list("pk", "status", "parsed").iterator(chunk_size=2_000):
        assert parsed is not None  # a line that was read
        sets = parsed["sets"]
        known = [i for i, found in enumerate(sets) if log.take(found)]
        if len(known) == len(sets) and status != ImportRow.Status.DUPLICATE:
            here.append(pk)
        elif len(known) < len(sets) and status == ImportRow.Status.DUPLICATE:
            gone.append(pk)
        elif len(known) < len(sets) and known != parsed.get("known", []):
            partly.append((pk, known, len(sets)))
    _mark(here, ImportRow.Status.DUPLICATE, "already in the log")
    _mark(gone, ImportRow.Status.GUESS, "was in the log when last looked, is not any more")
    _mark_partly(partly)
    return len(here) + len(gone) + len(partly)


def _chunks(pks: list[int], size: int = 500) -> Iterable[list[int]]:
    return (pks[i : i + size] for i in range(0, len(pks), size))


def _mark(pks: list[int], status: str, reason: str) -> None:
    for chunk in _chunks(pks):
        ImportRow.objects.filter(pk__in=chunk).update(status=status, reason=reason)


def _mark_partly(partly: list[tuple[int, list[int], int]]) -> None:
    for pk, known, total in partly:
        with transaction.atomic():
            row = ImportRow.objects.select_for_update().get(pk=pk)
            row.parsed = (row.parsed or {}) | {"known": known}
            row.status = GUESS
            row.reason = f"{len(known)} of {total} sets are in the log already, the others are new"
            row.save()


def revisions_of(batch: ImportBatch) -> dict[str, int]:
    """The revision of every athlete of the club by number as text: it moves with each set or reading that is noted."""
    rows = Revision.objects.filter(athlete__club=batch.club_id).values_list("athlete", "number")
    return {str(athlete): number for athlete, number in rows}
