"""Body measures of an import into the log and out of it again: lengths as measuring visits, body mass with its day."""

from django.db import connection
from django.db.models import Q
from django.utils import timezone

from ..models import ImportBatch, Measurement, MeasuringVisit, StagedMeasure, TrainingDay
from ..models.choices import MeasureKey as Key
from .headings import measures_in
from .outcome import measures_to_take
from .staging.private import held_of, whole

NOTE = "brought in from a file"
NOTHING_ELSE = Q(soreness=None, soreness_site="", sleep_hours=None, energy=None, note="")
Parsed = dict[str, object]


def lay_measures(batch: ImportBatch, lines: dict[int, Parsed | None]) -> int:
    """Lay out the readings of some lines beside the log; returns how many."""
    if not measures_in(batch.options["mapping"]):
        return 0
    held = held_of(batch, lines)
    whole_lines = [whole(parsed, held.get(number)) for number, parsed in lines.items()]
    staged = [one for parsed in whole_lines for one in _staged(batch, measures_to_take(parsed))]
    StagedMeasure.objects.bulk_create(staged, batch_size=500)
    return len(staged)


def _staged(batch: ImportBatch, measures: list[Parsed]) -> list[StagedMeasure]:
    """A body mass goes to the visit of the lengths beside it, else to the note of its day."""
    visits = {(m["athlete"], m["day"]) for m in measures if m["key"] != Key.MASS}
    return [
        StagedMeasure(
            batch=batch,
            athlete_id=m["athlete"],
            day=m["day"],
            key=m["key"],
            typed=m["typed"],
            unit=m["unit"],
            value=m["value"],
            with_visit=(m["athlete"], m["day"]) in visits,
            landmarks=bool(m.get("landmarks")),
        )
        for m in measures
    ]


def clear_measures(batch: ImportBatch) -> None:
    """Take the layout away."""
    batch.staged_measures.all()._raw_delete(using=batch._state.db)


def measured_meanwhile(batch: ImportBatch) -> bool:
    """Whether a reading that waits here was also noted by somebody since the comparison."""
    waiting = {
        (a, d, k): (value, visit)
        for a, d, k, value, visit in batch.staged_measures.values_list("athlete", "day", "key", "value", "with_visit")
    }
    if not waiting:
        return False
    athletes, days = {place[0] for place in waiting}, {place[1] for place in waiting}
    noted = TrainingDay.objects.filter(athlete__in=athletes, day__range=(min(days), max(days)), mass_kg__isnull=False)
    for place in noted.values_list("athlete", "day"):
        if (*place, Key.MASS) in waiting and not waiting[*place, Key.MASS][1]:
            return True
    rows = Measurement.objects.filter(visit__athlete__in=athletes, visit__day__range=(min(days), max(days)))
    found = rows.values_list("visit__athlete", "visit__day", "key", "value")
    return any(abs(waiting[*p][0] - value) < 0.05 for *p, value in found if tuple(p) in waiting)


def insert_measures(batch: ImportBatch) -> int:
    """Everything that was laid out into the log; inside the transaction of the move."""
    _insert_visits(batch)
    _insert_masses(batch)
    return batch.staged_measures.count()


def _insert_visits(batch: ImportBatch) -> None:
    staged = list(batch.staged_measures.filter(with_visit=True).order_by("id"))
    by_day: dict[tuple[int, object], list[StagedMeasure]] = {}
    for one in staged:
        by_day.setdefault((one.athlete_id, one.day), []).append(one)
    visits = MeasuringVisit.objects.bulk_create(
        MeasuringVisit(
            athlete_id=athlete,
            day=day,
            measured_by_id=batch.author_id,
            landmarks_consent=any(m.landmarks for m in group),
            note=NOTE,
            created=timezone.now(),
            batch=batch,
        )
        for (athlete, day), group in by_day.items()
    )
    repeats: dict[tuple[int, str], int] = {}
    rows = []
    for visit, group in zip(visits, by_day.values(), strict=True):
        for m in group:
            repeat = repeats[visit.pk, m.key] = repeats.get((visit.pk, m.key), 0) + 1
            rows.append(
                Measurement(visit=visit, key=m.key, repeat=repeat, typed=m.typed, unit=m.unit, value=m.value)
            )  # fmt: skip
    Measurement.objects.bulk_create(rows, batch_size=500)


def _insert_masses(batch: ImportBatch) -> None:
    """Onto the notes of days that are there, and new notes where there are none."""
    quote = connection.ops.quote_name
    day, staged = quote(TrainingDay._meta.db_table), quote(StagedMeasure._meta.db_table)
    mine = "s.batch_id = %s AND s.key = %s AND s.with_visit = %s"
    here = "d.athlete_id = s.athlete_id AND d.day = s.day"
    update = (
        f"UPDATE {day} AS d SET mass_typed = s.typed, mass_unit = s.unit, mass_kg = s.value, "  # noqa: S608
        f"mass_batch_id = s.batch_id FROM {staged} AS s WHERE {mine} AND {here} AND d.mass_kg IS NULL"
    )
    insert = (
        f"INSERT INTO {day} (athlete_id, day, mass_typed, mass_unit, mass_kg, soreness_site, note, mass_batch_id) "  # noqa: S608
        f"SELECT s.athlete_id, s.day, s.typed, s.unit, s.value, '', '', s.batch_id FROM {staged} AS s "
        f"WHERE {mine} AND NOT EXISTS (SELECT 1 FROM {day} AS d WHERE {here}) ORDER BY s.id"
    )
    with connection.cursor() as cursor:
        for statement in (update, insert):
            cursor.execute(statement, [batch.pk, Key.MASS.value, False])


def take_back_measures(batch: ImportBatch) -> int:
    """Every reading of an import out of the log again; a day's other notes stay."""
    readings = Measurement.objects.filter(visit__batch=batch).count()
    batch.visits.all().delete()
    days = TrainingDay.objects.filter(mass_batch=batch)
    count = days.filter(NOTHING_ELSE).delete()[0]
    return readings + count + days.update(mass_typed="", mass_unit="", mass_kg=None, mass_batch=None)


def readings_in(batch: ImportBatch) -> int:
    """How many readings of an import are in the log."""
    return Measurement.objects.filter(visit__batch=batch).count() + batch.mass_days.count()
