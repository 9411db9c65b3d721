"""Body measures of an import into the log and out of it again: lengths as measuring visits, body mass with its day."""

from collections.abc import Iterable

from django.db import connection
from django.db.models import Q
from django.utils import timezone

from athletes.importing.outcome import measures_to_take
from athletes.importing.private import held_of, whole
from athletes.models import ImportBatch, Measurement, MeasuringVisit, Revision, StagedMeasure, TrainingDay
from athletes.reader.headings import measures_in
from athletes.schema.measurements import MeasureKey as Key

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


def athletes_measured(batch: ImportBatch) -> set[int]:
    """Whose readings wait here."""
    return set(batch.staged_measures.order_by().values_list("athlete", flat=True).distinct())


def revisions_of(athletes: Iterable[int]) -> dict[int, int]:
    """A number for each athlete that moves with every reading that somebody notes."""
    return dict(Revision.objects.filter(athlete__in=list(athletes)).values_list("athlete", "number"))


def measured_meanwhile(batch: ImportBatch, athletes: Iterable[int]) -> bool:
    """Whether a reading of these athletes that waits here was also noted by somebody since the comparison."""
    staged = batch.staged_measures.filter(athlete__in=list(athletes))
    waiting = {
        (a, d, k): (value, visit)
        for a, d, k, value, visit in staged.values_list("athlete", "day", "key", "value", "with_visit")
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


def insert_measures(batch: ImportBatch) -> None:
    """Everything that was laid out into the log; inside the transaction of the move."""
    names = {"visit": MeasuringVisit, "reading": Measurement, "day": TrainingDay, "staged": StagedMeasure}
    tables = {name: connection.ops.quote_name(model._meta.db_table) for name, model in names.items()}
    created = connection.ops.adapt_datetimefield_value(timezone.now())
    known = {"batch": batch.pk, "author": batch.author_id, "note": NOTE, "now": created, "mass": Key.MASS.value}
    with connection.cursor() as cursor:
        for statement in (VISITS, READINGS, MASSES_ON_DAYS, MASSES):
            cursor.execute(statement.format(**tables), known)


VISITS = """
INSERT INTO {visit} (athlete_id, day, measured_by_id, landmarks_consent, chaperone, note, created, batch_id)
SELECT athlete_id, day, %(author)s, MAX(CASE WHEN landmarks THEN 1 ELSE 0 END) = 1, '', %(note)s, %(now)s, %(batch)s
FROM {staged} WHERE batch_id = %(batch)s AND with_visit GROUP BY athlete_id, day ORDER BY MIN(id)
"""
READINGS = """
WITH v AS MATERIALIZED (SELECT id, athlete_id, day FROM {visit} WHERE batch_id = %(batch)s)
INSERT INTO {reading} (visit_id, "key", "repeat", typed, unit, "value")
SELECT v.id, s."key", ROW_NUMBER() OVER (PARTITION BY v.id, s."key" ORDER BY s.id), s.typed, s.unit, s."value"
FROM {staged} AS s JOIN v ON v.athlete_id = s.athlete_id AND v.day = s.day
WHERE s.batch_id = %(batch)s AND s.with_visit
"""
MASSES_ON_DAYS = """
UPDATE {day} SET mass_typed = s.typed, mass_unit = s.unit, mass_kg = s."value", mass_batch_id = s.batch_id
FROM {staged} AS s WHERE s.batch_id = %(batch)s AND s."key" = %(mass)s AND NOT s.with_visit
AND {day}.athlete_id = s.athlete_id AND {day}.day = s.day AND {day}.mass_kg IS NULL
"""
MASSES = """
INSERT INTO {day} (athlete_id, day, mass_typed, mass_unit, mass_kg, soreness_site, note, mass_batch_id)
SELECT s.athlete_id, s.day, s.typed, s.unit, s."value", '', '', s.batch_id FROM {staged} AS s
WHERE s.batch_id = %(batch)s AND s."key" = %(mass)s AND NOT s.with_visit
AND NOT EXISTS (SELECT 1 FROM {day} AS d WHERE d.athlete_id = s.athlete_id AND d.day = s.day) ORDER BY s.id
"""


def take_back_measures(batch: ImportBatch) -> int:
    """Every reading of an import out of the log again; a day's other notes stay."""
    readings = Measurement.objects.filter(visit__batch=batch).count()
    Measurement.objects.filter(visit__batch=batch)._raw_delete(using=batch._state.db)
    batch.visits.all()._raw_delete(using=batch._state.db)
    days = TrainingDay.objects.filter(mass_batch=batch)
    count = days.filter(NOTHING_ELSE)._raw_delete(using=batch._state.db)
    return readings + count + days.update(mass_typed="", mass_unit="", mass_kg=None, mass_batch=None)


def readings_in(batch: ImportBatch) -> int:
    """How many readings of an import are in the log."""
    return Measurement.objects.filter(visit__batch=batch).count() + batch.mass_days.count()
