"""Taking an import in: plain INSERTs, one athlete a transaction, a long log in parts by year or month.

The plan (`options["parts"]`) is made once, the cursor (`options["taken"]`) moves in the same transaction as the part
it counts, so a killed process leaves whole parts and the next step begins with the first part that is missing.
Measured on SQLite with triggers on: 5,000 sets of one athlete hold the write lock about 0.09 s (docs/bench-import.md).
"""

import time
from collections import Counter, defaultdict
from collections.abc import Iterable
from datetime import date, datetime
from typing import Any, NamedTuple

from django.db import transaction
from django.utils import timezone

from athletes.access.audit import record
from athletes.importing.comparing.compare import COLUMNS, compare, key_of, revisions_of, staged_key
from athletes.importing.comparing.private import whole
from athletes.importing.files.tables import forget_opened
from athletes.importing.moving.cursor import locked_if_unmoved, pause_between_commits
from athletes.importing.moving.outcome import measures_to_take, rows_to_take, sets_to_take
from athletes.models import ImportBatch, LiftSet, Measurement, MeasuringVisit, Revision, TrainingDay
from athletes.models.bulk import Bulk, Values, ordered_uuids
from athletes.schema.measurements import MeasureKey as Key

PART = 5_000  # sets of one commit, at most, wherever a month holds no more
PLACES = 40  # sets of one line keep their order below the next line's
SAME = 0.05  # cm or kg
NOTE = "brought in from a file"
CHANGED = "The log changed since these lines were read: some are there already now. Look again, then take them in."
MEANWHILE = "The log changed while the lines were taken in; they are out of it again. Look again, then take them in."
Status = ImportBatch.Status
SETS, READINGS = Bulk(LiftSet), Bulk(Measurement)
UUIDS = ordered_uuids()


class Part(NamedTuple):
    """One transaction: an athlete, and the beginning of its days ("" for all, "2024", "2024-03")."""

    athlete: int
    days: str


class Content(NamedTuple):
    """What a part brings: sets with their order in the file, and readings of the body."""

    sets: list[tuple[int, Values]]
    measures: list[Values]

    def of(self, days: str) -> "Content":
        """The sets and readings of days that begin so."""
        return Content(
            [one for one in self.sets if str(one[1]["day"]).startswith(days)],
            [one for one in self.measures if str(one["day"]).startswith(days)],
        )


def take_in(batch: ImportBatch) -> str:
    """Ask for the import; returns "" or why it cannot be taken in."""
    with transaction.atomic():
        now = ImportBatch.objects.select_for_update().get(pk=batch.pk)
        if now.status != Status.READY:
            return "This import is not waiting to be taken in."
        now.status, now.reason = Status.MOVING, ""
        now.options |= {"phase": "check", "parts": [], "taken": 0, "sets": 0, "measures": 0}
        now.save()
    return ""


def check(batch: ImportBatch, until: float) -> None:
    """Compare with what was logged since the preview, then plan the parts; a difference leads back to the preview."""
    compared, revisions = timezone.now(), revisions_of(batch)
    changed = revisions != batch.options.get("revisions") and compare(batch)
    parts = [] if changed else parts_of(batch, {int(pk) for pk in revisions})
    with transaction.atomic():
        now = locked_if_unmoved(batch)
        if now is None:
            return
        now.options |= {"revisions": revisions, "compared": compared.isoformat()}
        now.options |= {"phase": "" if changed else "take", "parts": parts}
        if changed:
            now.status, now.reason = Status.READY, CHANGED
        now.save()


def parts_of(batch: ImportBatch, athletes: set[int]) -> list[Part]:
    """The transactions of an import: an athlete each, by year over 5,000 sets, by month where a year has more."""
    counts: dict[int, Counter[str]] = defaultdict(Counter)
    rows = rows_to_take(batch).order_by("lifter", "number")
    for parsed, choice in rows.values_list("parsed", "choice").iterator(chunk_size=2_000):
        for one in (*sets_to_take(parsed, choice), *measures_to_take(parsed)):
            counts[one["athlete"]][str(one["day"])[:7]] += 1
    parts = []
    for athlete in sorted(counts.keys() & athletes):
        length = next((n for n in (0, 4) if max(_by(counts[athlete], n).values()) <= PART), 7)
        parts += [Part(athlete, days) for days in sorted(_by(counts[athlete], length))]
    return parts


def _by(months: Counter[str], length: int) -> Counter[str]:
    found: Counter[str] = Counter()
    for month, count in months.items():
        found[month[:length]] += count
    return found


def take(batch: ImportBatch, until: float) -> None:
    """Take parts in until the time is over; what a part brings is made ready before its transaction."""
    parts = [Part(*one) for one in batch.options["parts"]]
    athlete, content = 0, Content([], [])
    while int(batch.options["taken"]) < len(parts):
        part = parts[int(batch.options["taken"])]
        if part.athlete != athlete:
            athlete, content = part.athlete, content_of(batch, part.athlete)
        now = _take_part(batch, part, content.of(part.days))
        if now is None or now.options["phase"] != "take":
            return
        batch = now
        pause_between_commits()
        if time.monotonic() > until:
            return
    _finish(batch)


def content_of(batch: ImportBatch, athlete: int) -> Content:
    """Everything that the lines of a file bring for an athlete."""
    mine = rows_to_take(batch).filter(lifter__in=(athlete, 0)).order_by()  # in order, SQLite scans the whole batch
    rows = sorted(mine.values_list("number", "parsed", "choice"), key=lambda row: row[0])
    measured = any("measures" in (parsed or {}) for _, parsed, _ in rows)
    held = dict(batch.held_masses.values_list("number", "held")) if measured else {}
    sets, measures = [], []
    for number, parsed, choice in rows:
        found = whole(parsed, held.get(number))
        taken = enumerate(sets_to_take(found, choice))
        sets += [(number * PLACES + i, one) for i, one in taken if one["athlete"] == athlete]
        measures += [one for one in measures_to_take(found) if one["athlete"] == athlete]
    return Content(sets, measures)


def _take_part(batch: ImportBatch, part: Part, content: Content) -> ImportBatch | None:
    """Write one part and move the cursor; None if another step was faster."""
    moment = timezone.now()
    same: Values = {"author": batch.author_id, "batch": batch.pk, "created": moment, "changed": moment}
    ready = SETS.ready([values_of(one, order) for order, one in content.sets], same)
    with transaction.atomic():
        now = locked_if_unmoved(batch)
        if now is None:
            return None
        revision = Revision.objects.filter(athlete=part.athlete).values_list("number", flat=True).first()
        moved = revision != now.options["revisions"].get(str(part.athlete))
        if revision is None or (moved and noted_meanwhile(now, part.athlete, content)):
            now.options["phase"] = "withdraw"
        else:
            SETS.insert(ready)
            insert_measures(now, part.athlete, content.measures)
            now.options["taken"] += 1
            now.options["sets"] += len(content.sets)
            now.options["measures"] += len(content.measures)
        now.save(update_fields=["options"])
    return now


def values_of(found: Values, order: int) -> Values:
    """A set's own values; defaults and what all sets of an import share are added by the bulk writer."""
    own = {name: value for name, value in found.items() if SETS.defaults.get(name) != value}
    return {"order": order} | own | {"uid": next(UUIDS), "day": date.fromisoformat(str(found["day"]))}


def noted_meanwhile(batch: ImportBatch, athlete: int, content: Content) -> bool:
    """Whether a set or reading of this part was also noted by somebody since the comparison."""
    since = datetime.fromisoformat(batch.options["compared"])
    keys = {staged_key(one) for _, one in content.sets}
    new = LiftSet.objects.filter(athlete=athlete, changed__gte=since).exclude(batch=batch.pk)
    if any(key_of(pk, day.isoformat(), *rest) in keys for pk, day, *rest in new.values_list(*COLUMNS)):
        return True
    if not content.measures:
        return False
    visits = {m["day"] for m in content.measures if m["key"] != Key.MASS}
    weighed = {m["day"] for m in content.measures if m["key"] == Key.MASS} - visits
    noted = TrainingDay.objects.filter(athlete=athlete, mass_kg__isnull=False).values_list("day", flat=True)
    if any(day.isoformat() in weighed for day in noted):
        return True
    waiting = {(m["day"], m["key"]): float(str(m["value"])) for m in content.measures}
    rows = Measurement.objects.filter(visit__athlete=athlete).exclude(visit__batch=batch.pk)
    return any(
        abs(waiting[day.isoformat(), key] - value) < SAME
        for day, key, value in rows.values_list("visit__day", "key", "value")
        if (day.isoformat(), key) in waiting
    )


def insert_measures(batch: ImportBatch, athlete: int, measures: Iterable[Values]) -> None:
    """Readings of the body as measuring visits of the import, one a day."""
    by_day: dict[str, list[Values]] = defaultdict(list)
    for one in measures:
        by_day[str(one["day"])].append(one)
    visits = MeasuringVisit.objects.bulk_create(
        MeasuringVisit(
            athlete_id=athlete, day=date.fromisoformat(day), measured_by_id=batch.author_id, batch=batch, note=NOTE,
            landmarks_consent=any(one.get("landmarks") for one in found),
        )
        for day, found in by_day.items()
    )  # fmt: skip
    rows = []
    for visit, found in zip(visits, by_day.values(), strict=True):
        repeats: Counter[str] = Counter()
        for one in found:
            repeats[str(one["key"])] += 1
            own = {name: one[name] for name in ("key", "typed", "unit", "value")}
            rows.append(own | {"visit": visit.pk, "repeat": repeats[str(one["key"])]})
    READINGS.insert(READINGS.ready(rows, {}))


def _finish(batch: ImportBatch) -> None:
    """The last part is in: note it, and throw the upload and the masses held apart away."""
    with transaction.atomic():
        now = locked_if_unmoved(batch)
        if now is None:
            return
        now.status, now.finished = Status.DONE, timezone.now()
        after = {"sets": now.options["sets"], "readings": now.options["measures"]}
        now.options |= {"phase": "tidy", "parts": []}
        now.save()
        record(now.author, "import taken in", now, after={k: v for k, v in after.items() if v}, club=now.club)


def tidy(batch: ImportBatch, until: float) -> None:
    """Throw away what nothing needs once the lines are in the log or out of it again."""
    batch.held_masses.all()._raw_delete(using=batch._state.db)
    if batch.status == Status.DONE and batch.file:
        forget_opened(str(batch.file.name))
        batch.file.delete(save=False)
    with transaction.atomic():
        now = ImportBatch.objects.select_for_update().get(pk=batch.pk)
        now.file = batch.file if batch.status != Status.DONE else ""
        now.options["phase"] = ""
        now.save(update_fields=["options", "file"])


def readings_in(batch: ImportBatch) -> int:
    """How many readings of an import are in the log."""
    return Measurement.objects.filter(visit__batch=batch).count() + batch.mass_days.count()


def brought_in(batch: ImportBatch) -> dict[str, Any]:
    """What of an import is in the log, for its page."""
    return {"sets": batch.sets.count(), "readings": readings_in(batch)}
