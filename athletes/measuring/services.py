"""Measuring visits: write one whole, read the latest of each measure and how it went over the visits."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.db import transaction

from athletes.access.audit import record
from athletes.measuring.repeats import Repeats
from athletes.measuring.stale import is_stale
from athletes.models import Athlete, Measurement, MeasuringVisit, User
from athletes.schema.measurements import MeasureKey as Key
from athletes.schema.measurements import sheet_keys


@dataclass(frozen=True)
class NewReading:
    """One reading to be stored: `value` in cm (kg for body mass), `typed` and `unit` as given."""

    key: str
    repeat: int
    typed: str
    unit: str
    value: float


@transaction.atomic
def save_visit(
    actor: User, athlete: Athlete, visit: MeasuringVisit, readings: Iterable[NewReading], keep_mass: bool = False
) -> MeasuringVisit:
    """Write a visit and replace its readings; `keep_mass` leaves a body mass alone that the actor may not see."""
    new = visit.pk is None
    before = {} if new else readings_as_values(visit)
    visit.athlete = athlete
    visit.measured_by = visit.measured_by or actor
    visit.save()
    gone = visit.measurements.exclude(key=Key.MASS) if keep_mass else visit.measurements.all()
    gone.delete()
    Measurement.objects.bulk_create(
        Measurement(visit=visit, key=r.key, repeat=r.repeat, typed=r.typed, unit=r.unit, value=r.value)
        for r in readings
    )
    record(actor, "added" if new else "corrected", visit, None if new else before, readings_as_values(visit), athlete)
    return visit


@transaction.atomic
def delete_visit(actor: User, visit: MeasuringVisit) -> None:
    """Remove a visit with its readings; the trail keeps what was measured."""
    record(actor, "deleted", visit, before=readings_as_values(visit), athlete=visit.athlete)
    visit.delete()


def readings_as_values(visit: MeasuringVisit) -> dict[str, object]:
    """A visit for the trail of changes; a body mass is mentioned, never told."""
    told: dict[str, object] = {"day": visit.day.isoformat(), "chaperone": visit.chaperone, "note": visit.note}
    for m in visit.measurements.all():
        told[f"{m.key} {m.repeat}"] = "(private)" if m.key == Key.MASS else f"{m.typed} {m.unit}"
    return told


@dataclass(frozen=True)
class VisitReading:
    """One measure at one visit."""

    visit: MeasuringVisit | None
    day: date
    repeats: Repeats


@dataclass(frozen=True)
class Measure:
    """A measure over all visits, newest first."""

    key: str
    taken: tuple[VisitReading, ...]
    stale: bool

    @property
    def latest(self) -> VisitReading:
        return self.taken[0]


def measures_of(athlete: Athlete, today: date, with_mass: bool) -> dict[str, Measure]:
    """Every measure ever taken, in the order of the sheet; body mass only for those who may see it."""
    rows = Measurement.objects.filter(visit__athlete=athlete).select_related("visit__measured_by")
    rows = rows.order_by("-visit__day", "-visit_id", "key", "repeat")
    visits: dict[str, dict[MeasuringVisit, list[float]]] = {}
    for row in rows if with_mass else rows.exclude(key=Key.MASS):
        visits.setdefault(row.key, {}).setdefault(row.visit, []).append(row.value)
    taken = {
        key: [VisitReading(visit, visit.day, Repeats(key, tuple(values))) for visit, values in by_visit.items()]
        for key, by_visit in visits.items()
    }
    if with_mass:
        taken[Key.MASS] = sorted(taken.get(Key.MASS, []) + masses_of_days(athlete), key=lambda t: t.day, reverse=True)
    return {key: measure(athlete, key, taken[key], today) for key in sheet_keys() if taken.get(key)}


def measure(athlete: Athlete, key: str, taken: list[VisitReading], today: date) -> Measure:
    return Measure(key, tuple(taken), is_stale(athlete, taken[0].day, today))


def masses_of_days(athlete: Athlete) -> list[VisitReading]:
    """Body masses noted on training days."""
    noted = athlete.days.filter(mass_kg__isnull=False).values_list("day", "mass_kg")
    return [VisitReading(None, day, Repeats(Key.MASS, (mass,))) for day, mass in noted if mass is not None]


def latest_lengths(athlete: Athlete, today: date, without: MeasuringVisit | None = None) -> dict[str, float]:
    """The latest mean of each length in cm that is not stale, for cross-checks; leaves out one visit."""
    rows = Measurement.objects.filter(visit__athlete=athlete, visit__day__lte=today).exclude(key=Key.MASS)
    if without is not None and without.pk:
        rows = rows.exclude(visit=without)
    found: dict[str, tuple[int, list[float]]] = {}
    for key, visit, day, value in rows.order_by("-visit__day", "-visit_id").values_list(
        "key", "visit_id", "visit__day", "value"
    ):
        if is_stale(athlete, day, today):
            continue
        kept = found.setdefault(key, (visit, []))
        if kept[0] == visit:
            kept[1].append(value)
    return {key: sum(values) / len(values) for key, (_, values) in found.items()}
