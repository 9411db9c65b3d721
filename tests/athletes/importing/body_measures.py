"""What an import of body measures left in the database."""

from athletes.importing.steps import advance
from athletes.importing.take_in import take_in
from athletes.models import Measurement, TrainingDay

DAY = "2026-03-04"


LOG = "date,lifter,lift,weight,unit,reps,bw\n"


def taken(batch):
    take_in(batch)
    return advance(batch.pk, 30)


def measured() -> list[tuple]:
    rows = Measurement.objects.order_by("visit__day", "visit_id", "key", "repeat")
    return [
        (m.visit.athlete.name, m.visit.day.isoformat(), m.key, round(m.value, 1), m.typed, m.unit)
        for m in rows.select_related("visit__athlete")
    ]


def weighed() -> list[tuple]:
    rows = TrainingDay.objects.filter(mass_kg__isnull=False).order_by("day", "athlete")
    return [(d.athlete.name, d.day.isoformat(), round(d.mass_kg, 1), d.mass_typed, d.mass_unit) for d in rows]
