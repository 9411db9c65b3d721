"""Writing the log: one set added, corrected with its history, taken back, put back."""

import uuid
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from django.db import IntegrityError, models, transaction
from django.db.models import Max
from django.utils import timezone

from athletes.access.audit import fields_of, record
from athletes.models import Athlete, AuditEntry, Club, LiftSet, TrainingDay, User
from athletes.models.choices import Result, TrialStatus

ADDED, CORRECTED, TAKEN_BACK, PUT_BACK = "added", "corrected", "taken back", "put back"
BEST_WINDOW = timedelta(weeks=12)


def target_of(row_pk: int) -> str:
    """How the trail of changes names a set."""
    return f"{LiftSet._meta.verbose_name} {row_pk}"


def club_now(athlete: Athlete) -> datetime:
    """This moment in the zone of the athlete's club."""
    return club_now_of(athlete.club)


def club_now_of(club: Club) -> datetime:
    """This moment in the zone of a club."""
    return timezone.now().astimezone(ZoneInfo(club.timezone))


def clock_order(moment: datetime) -> int:
    """Place of a moment within its own day, in tenths of a second since midnight."""
    midnight = moment.replace(hour=0, minute=0, second=0, microsecond=0)
    return int((moment - midnight).total_seconds() * 10)


def next_order(athlete: Athlete, row: LiftSet) -> int:
    """The place behind every set already logged on that day."""
    return (athlete.sets.filter(day=row.day).aggregate(last=Max("order"))["last"] or 0) + 1


def log_set(actor: User, athlete: Athlete, row: LiftSet) -> tuple[LiftSet, bool]:
    """Write a new set once: a `uid` that is here already, or was taken back, writes nothing.

    Returns the stored set and whether it was written now. A uid that belongs to somebody else's set raises
    IntegrityError, so that guessing one shows nothing.
    """
    row.athlete, row.author = athlete, actor
    if row.in_new_style:
        row.trial = athlete.trials.filter(status=TrialStatus.RUNNING, started_on__lte=row.day).first()
    try:
        with transaction.atomic():
            if not row.order:
                row.order = next_order(athlete, row)
            row.save(force_insert=True)
            record(actor, ADDED, row, after={"uid": str(row.uid), "set": str(row), "result": row.result})
    except IntegrityError:
        stored = athlete.sets.filter(uid=row.uid).first()
        if stored is None:
            raise
        return stored, False
    return row, True


def was_taken_back(athlete: Athlete, uid: uuid.UUID) -> bool:
    """Whether a set with this uid was here once and is taken back now."""
    entry = AuditEntry.objects.filter(athlete=athlete, action=TAKEN_BACK, before__uid=str(uid)).exists()
    return entry and not athlete.sets.filter(uid=uid).exists()


def was_corrected(row: LiftSet) -> bool:
    """Whether the set was corrected since it came in."""
    return AuditEntry.objects.filter(athlete=row.athlete, target=target_of(row.pk), action=CORRECTED).exists()


def correct_set(actor: User, stored: LiftSet, changed: LiftSet) -> AuditEntry | None:
    """Write the changed row and keep what it was; None when nothing differs."""
    with transaction.atomic():
        before = fields_of(LiftSet.objects.select_for_update().get(pk=stored.pk))
        after = fields_of(changed)
        if before == after:
            return None
        changed.save()
        return record(actor, CORRECTED, changed, before, after)


def take_back_set(actor: User, row: LiftSet) -> AuditEntry:
    """Remove a set; all of it stays in the trail, so that it can be put back."""
    with transaction.atomic():
        locked = LiftSet.objects.select_for_update().get(pk=row.pk)
        entry = record(actor, TAKEN_BACK, locked, before=fields_of(locked))
        locked.delete()
    return entry


def put_back_set(actor: User, entry: AuditEntry) -> LiftSet:
    """The set of a "taken back" entry, as it was; the row that is there already when it was put back before."""
    kept = entry.before or {}
    with transaction.atomic():
        there = LiftSet.objects.filter(athlete=entry.athlete, uid=kept["uid"]).first()
        if there is not None:
            return there
        row = LiftSet(athlete=entry.athlete, **_known(kept))
        row.save(force_insert=True)
        record(actor, PUT_BACK, row, after={"uid": str(row.uid), "set": str(row)})
    return row


def undo_correction(actor: User, row: LiftSet) -> AuditEntry | None:
    """Give the row the values it had before its last correction; that is a correction too, and undone the same way."""
    last = AuditEntry.objects.filter(athlete=row.athlete, target=target_of(row.pk), action=CORRECTED).first()
    if last is None:
        return None
    earlier = LiftSet.objects.get(pk=row.pk)
    for name, value in _known(last.before or {}).items():
        setattr(earlier, name, value)
    return correct_set(actor, row, earlier)


def _known(values: dict[str, object]) -> dict[str, object]:
    """Kept values by column, without rows that are gone since (a bar, a trial, an import, an author)."""
    columns = {
        f.name: f for f in LiftSet._meta.concrete_fields if f.name not in ("id", "athlete", "created", "changed")
    }
    found = {}
    for name, value in values.items():
        field = columns.get(name)
        if isinstance(field, models.ForeignKey):
            exists = value is not None and field.related_model._default_manager.filter(pk=value).exists()
            found[field.attname] = value if exists else None
        elif field is not None:
            found[name] = field.to_python(value)
    return found


def recent_best_kg(athlete: Athlete, row: LiftSet) -> float | None:
    """The heaviest made load of the same lift and style in the 12 weeks up to the set's day, without the set itself."""
    sets = athlete.sets.filter(
        result=Result.MADE, lift=row.lift, style=row.style, day__lte=row.day, day__gte=row.day - BEST_WINDOW
    ).exclude(uid=row.uid)
    return sets.aggregate(best=Max("load_kg"))["best"]


def is_heavy(row: LiftSet, best_kg: float | None) -> bool:
    """Whether a made set is worth asking where the bar was slowest: from 85 % of the best, or RPE 8.5 and up."""
    by_load = best_kg is not None and row.load_kg >= 0.85 * best_kg
    by_effort = row.rir_low is not None and row.rir_low <= 1.5
    return row.result == Result.MADE and (by_load or by_effort)


def save_day_note(actor: User, row: TrainingDay) -> None:
    """Write the note and what it was before; two people who begin the same day's note end with one row."""
    try:
        _write(actor, row)
    except IntegrityError:
        row.pk = TrainingDay.objects.get(athlete=row.athlete, day=row.day).pk
        _write(actor, row)


def _write(actor: User, row: TrainingDay) -> None:
    with transaction.atomic():
        before = fields_of(TrainingDay.objects.get(pk=row.pk)) if row.pk else None
        row.save()
        record(actor, "corrected" if before else "added", row, before, fields_of(row))
