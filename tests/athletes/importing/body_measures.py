"""What an import of body measures left in the database."""

from athletes.importing.moving.taking import take_in
from athletes.importing.moving.undoing import undo
from athletes.importing.tasks import advance
from athletes.models import Measurement, TrainingDay

DAY = "2026-03-04"


LOG = "date,lifter,lift,weight,unit,reps,bw\n"


def taken(batch):
    take_in(batch)
    return advance(batch.pk, 30)


def measured() -> list[tuple]:
    """Readings of measuring visits without those of visits that only hold a body mass."""
    rows = Measurement.objects.order_by("visit__day", "visit_id", "key", "repeat").select_related("visit__athlete")
    lengths = set(Measurement.objects.exclude(key="mass").values_list("visit", flat=True))
    return [
        (m.visit.athlete.name, m.visit.day.isoformat(), m.key, round(m.value, 1), m.typed, m.unit)
        for m in rows
        if m.visit_id in lengths
    ]


def weighed() -> list[tuple]:
    """Body masses of days and of visits that hold nothing else."""
    lengths = set(Measurement.objects.exclude(key="mass").values_list("visit", flat=True))
    rows = Measurement.objects.filter(key="mass").exclude(visit__in=lengths).select_related("visit__athlete")
    read = [(m.visit.athlete.name, m.visit.day.isoformat(), round(m.value, 1), m.typed, m.unit) for m in rows]
    days = TrainingDay.objects.filter(mass_kg__isnull=False).select_related("athlete")
    noted = [(d.athlete.name, d.day.isoformat(), round(d.mass_kg, 1), d.mass_typed, d.mass_unit) for d in days]
    return sorted(read + noted, key=lambda one: (one[1], one[0]))


def undone(batch, actor) -> tuple[int, int]:
    """Undo an import to its end; how many sets and readings came out."""
    assert undo(batch, actor) == ""
    done = advance(batch.pk, 30).options["undo"]
    return done["sets"], done["readings"]
