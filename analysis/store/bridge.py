"""Rows of the log into records of the core: units converted once, nothing decided here."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence, Set
from dataclasses import dataclass, replace
from datetime import date
from math import radians
from statistics import fmean

from django.db.models import QuerySet, prefetch_related_objects
from django.utils import timezone

from analysis.core.body.anthropometry import MEASUREMENT_ERROR
from analysis.core.records.bodies import BodyInput
from analysis.core.records.lifts import DayRecord, LifterRecord, SetRecord
from analysis.core.records.terms import STYLES
from analysis.store.log_rows import log_of, logs_of
from athletes.models import Athlete, FirstMeeting, HealthNote, LiftSet, Measurement, TrainingDay
from athletes.models.choices import BodySite, HealthKind, MeasureKey, Result
from athletes.people.services import standing_on
from athletes.schema.postures import PostureNote

PAINFUL = (HealthKind.PAIN, HealthKind.INJURY, HealthKind.SURGERY)
USUAL_ERROR_COUNTS = 4  # calibration: how many repeats the usual error of one reading weighs like
BACK = (BodySite.LOWER_BACK, BodySite.UPPER_BACK)


@dataclass(frozen=True, slots=True)
class Reading:
    """The latest visit's readings of one measurement, canonical (cm; kg for mass), with its day."""

    key: str
    values: tuple[float, ...]
    day: date

    @property
    def mean(self) -> float:
        """Mean of the repeats, cm or kg."""
        return fmean(self.values)

    @property
    def mean_m(self) -> float:
        """Mean of the repeats, m; kg for mass."""
        return self.mean if self.key == MeasureKey.MASS else self.mean / 100.0


def latest_readings(
    athlete: Athlete, as_of: date | None = None, noted: Sequence[DayRecord] | None = None
) -> dict[str, Reading]:
    """For each measurement the repeats of the latest visit that took it, up to and on `as_of`.

    A body mass noted on a later training day replaces the visit's; `noted` are those days where they are read already.
    """
    day = as_of or timezone.localdate()
    rows = (
        Measurement.objects.filter(visit__athlete=athlete, visit__day__lte=day)
        .order_by("-visit__day", "-visit_id", "key", "repeat")
        .values_list("key", "visit_id", "visit__day", "value")
    )
    taken: dict[str, tuple[int, date, list[float]]] = {}
    for key, visit, on, value in rows:
        kept = taken.setdefault(key, (visit, on, []))
        if kept[0] == visit:
            kept[2].append(value)
    readings = {key: Reading(key, tuple(values), on) for key, (_, on, values) in taken.items()}
    later = _mass_of_days(athlete, day) if noted is None else _mass_among(noted)
    if later and (MeasureKey.MASS not in readings or readings[MeasureKey.MASS].day < later.day):
        readings[MeasureKey.MASS] = later
    return readings


def _mass_of_days(athlete: Athlete, day: date) -> Reading | None:
    days = athlete.days.filter(mass_kg__isnull=False, day__lte=day).order_by("-day")
    latest = days.values_list("mass_kg", "day").first()
    return Reading(MeasureKey.MASS, (latest[0],), latest[1]) if latest and latest[0] is not None else None


def _mass_among(noted: Sequence[DayRecord]) -> Reading | None:
    weighed = [(one.body_mass_kg, one.day) for one in noted if one.body_mass_kg is not None]
    return Reading(MeasureKey.MASS, weighed[-1][:1], weighed[-1][1]) if weighed else None


def measurement_sds(readings: Mapping[str, Reading]) -> dict[str, float]:
    """Standard deviation (m; kg for mass) of each measurement's mean over its repeats.

    The usual error of one reading counts like `USUAL_ERROR_COUNTS` repeats of its own and is pooled with the repeats'
    spread: two readings that agree by luck do not make a measurement perfect.
    """
    sds = {}
    for key, reading in readings.items():
        scale = 1.0 if key == MeasureKey.MASS else 0.01
        squares = sum(((value - reading.mean) * scale) ** 2 for value in reading.values)
        count = len(reading.values)
        pooled = (USUAL_ERROR_COUNTS * MEASUREMENT_ERROR[key] ** 2 + squares) / (USUAL_ERROR_COUNTS + count - 1)
        sds[key] = (pooled / count) ** 0.5
    return sds


def body_input(athlete: Athlete, as_of: date | None = None, noted: Sequence[DayRecord] | None = None) -> BodyInput:
    """The athlete's body as measured up to `as_of` (today when left out)."""
    day = as_of or timezone.localdate()
    readings = latest_readings(athlete, day, noted)
    age = athlete.age_on(day)
    return BodyInput(
        sex=athlete.sex,
        measured_m={key: reading.mean_m for key, reading in readings.items()},
        sd_m=measurement_sds(readings),
        age=None if age is None else float(age),
        name=athlete.name,
    )


def lifter_record(athlete: Athlete, as_of: date | None = None, *, log: bool = True) -> LifterRecord:
    """One athlete as the core needs them on `as_of` (today when left out); `log=False` leaves sets, days, meets out."""
    day = as_of or timezone.localdate()
    sets = log_of(athlete.pk, athlete.sets.filter(day__lte=day)) if log else ()
    noted = day_notes(athlete.days.filter(day__lte=day)).get(athlete.pk, ()) if log else None
    body = body_input(athlete, day, noted)
    meeting = FirstMeeting.objects.filter(athlete=athlete).first()
    ahead = _meets_ahead(athlete, meeting, day) if log else (None, None)
    return replace(
        _with_log(athlete, day, sets, noted),
        measurements_m=dict(body.measured_m),
        measurement_sd_m=dict(body.sd_m),
        trained_styles=trained_styles(athlete),
        next_meet=ahead[0],
        important_meet=ahead[1],
        wishes_two_heavy_days=meeting.wishes_two_heavy_days if meeting else False,
        comfortable_stance_m=_metres(meeting.stance_cm) if meeting else None,
        comfortable_turnout_rad=_radians(meeting.turnout_deg) if meeting else None,
        hip_pinch=meeting.hip_pinch if meeting else False,
        posture_notes=posture_notes(athlete, day),
    )


def posture_notes(athlete: Athlete, day: date) -> tuple[PostureNote, ...]:
    """What was seen of how the athlete stands up to `day`, the oldest first."""
    rows = athlete.postures.filter(day__lte=day).order_by("day", "pk")
    columns = ("style", "day", "source", "heels_cm", "turnout_deg", "bar_over", "arms", "back", "knees")
    return tuple(
        PostureNote(style, on, source, _metres(heels), *rest)
        for style, on, source, heels, *rest in rows.values_list(*columns)
    )


def lifter_seen(athlete: Athlete, as_of: date, *, sees_health: bool, log: bool = True) -> LifterRecord:
    """One athlete as the core needs them, without health for a reader who may not see it."""
    lifter = lifter_record(athlete, as_of, log=log)
    return lifter if sees_health else lifter.without_health()


def lifter_logs(athletes: Sequence[Athlete], as_of: date) -> dict[int, LifterRecord]:
    """Several athletes' logs by pk, three queries for any number of them; body, build and meets are left out."""
    prefetch_related_objects(athletes, "health_notes")
    known = {"athlete__in": [a.pk for a in athletes], "day__lte": as_of}
    sets, noted = logs_of(LiftSet.objects.filter(**known)), day_notes(TrainingDay.objects.filter(**known))
    return {a.pk: _with_log(a, as_of, sets.get(a.pk, ()), noted.get(a.pk, ())) for a in athletes}


def _with_log(
    athlete: Athlete, day: date, sets: tuple[SetRecord, ...], noted: Sequence[DayRecord] | None
) -> LifterRecord:
    """The part of a lifter that comes from the log and the health notes; None leaves the days out."""
    notes = [n for n in athlete.health_notes.all() if n.noted_on <= day and n.kind in PAINFUL]
    pain_days = {n.noted_on for n in notes if n.kind != HealthKind.SURGERY}
    pain_days |= {one.day for one in sets if one.result == Result.STOPPED_PAIN}
    age = athlete.age_on(day)
    return LifterRecord(
        key=str(athlete.uid),
        sex=athlete.sex,
        age=None if age is None else float(age),
        standing=standing_on(athlete, day),
        measurements_m={},
        back_pain_noted=any(n.site in BACK for n in notes),
        pain_noted=any(_open_on(n, day) for n in notes if n.kind != HealthKind.SURGERY),
        sets=sets,
        days=() if noted is None else with_pain(noted, pain_days),
    )


def day_notes(rows: QuerySet[TrainingDay]) -> dict[int, list[DayRecord]]:
    """Notes of training days by athlete, oldest first."""
    fields = ("athlete_id", "day", "soreness", "soreness_site", "sleep_hours", "energy", "mass_kg")
    found: dict[int, list[DayRecord]] = {}
    for athlete, *note in rows.order_by("day").values_list(*fields):
        found.setdefault(athlete, []).append(DayRecord(*note))
    return found


def with_pain(noted: Iterable[DayRecord], pain_days: Set[date]) -> tuple[DayRecord, ...]:
    """The days in order; one of `pain_days` is marked, and without a note becomes a record of its own."""
    days = {one.day: one for one in noted}
    days |= {
        day: replace(days[day], pain_event=True) if day in days else DayRecord(day, pain_event=True)
        for day in pain_days
    }
    return tuple(days[day] for day in sorted(days))


def trained_styles(athlete: Athlete) -> tuple[str, ...]:
    """Styles the athlete was said to have trained at the first meeting, in the usual order."""
    told = {row.style for row in athlete.style_records.all() if row.years or row.best_kg or row.last_on}
    return tuple(style for style in STYLES if style in told)


def _open_on(note: HealthNote, day: date) -> bool:
    return note.ended_on is None or note.ended_on > day


def _metres(cm: float | None) -> float | None:
    return None if cm is None else cm / 100.0


def _radians(degrees: float | None) -> float | None:
    return None if degrees is None else radians(degrees)


def _meets_ahead(athlete: Athlete, meeting: FirstMeeting | None, day: date) -> tuple[date | None, date | None]:
    """The next meet, and the next one marked as important."""
    days = list(athlete.meet_entries.filter(meet__day__gte=day).values_list("meet__day", "important"))
    if meeting and meeting.next_meet_on and meeting.next_meet_on >= day:
        days.append((meeting.next_meet_on, meeting.next_meet_important))
    return min((on for on, _ in days), default=None), min((on for on, important in days if important), default=None)
