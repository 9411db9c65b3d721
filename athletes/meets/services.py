"""Meets: entries, planned attempts, what happened on the platform, and the deadlifts written into the log once."""

from __future__ import annotations

import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from django.db import transaction
from django.db.models import Max

from athletes.access import audit
from athletes.log.services import log_set, was_taken_back
from athletes.models import Athlete, Attempt, LiftSet, Meet, MeetEntry, User
from athletes.models.choices import Grip, Lift, Result, RuleReason
from athletes.units.loads import Amount

RESULT_WORDS = dict(Result.choices) | {Result.STOPPED_PAIN: Result.NOT_TRIED.label}
PRIVATE = ("mass_typed", "mass_kg", "official_mass_typed", "official_mass_kg")


@dataclass(frozen=True, slots=True)
class AttemptReport:
    """What was said of one attempt: its load, its result ("" while it is due), why, when, and by which phone entry.

    `saw` is what stood there when it was said (`standing_words`), None when the sayer insists.
    """

    lift: str
    number: int
    load: Amount
    result: str = ""
    reason: str = ""
    at: datetime | None = None
    saw: str | None = None
    uid: str = ""


@dataclass(frozen=True, slots=True)
class WriteResult:
    """What became of it: "stored", "already" or "conflict" with the reason in words."""

    status: str
    why: str = ""


@transaction.atomic
def save_meet(meet: Meet, actor: User) -> Meet:
    """Store a new or changed meet."""
    before = None if meet.pk is None else audit.fields_of(Meet.objects.get(pk=meet.pk))
    meet.save()
    audit.record(actor, "added" if before is None else "corrected", meet, before, audit.fields_of(meet))
    return meet


@transaction.atomic
def save_entry(entry: MeetEntry, actor: User) -> MeetEntry:
    """Store a new or changed entry; body masses stay out of the trail of changes."""
    before = None if entry.pk is None else _public_fields(MeetEntry.objects.get(pk=entry.pk))
    entry.save()
    audit.record(actor, "added" if before is None else "corrected", entry, before, _public_fields(entry))
    return entry


@transaction.atomic
def withdraw_entry(entry: MeetEntry, actor: User) -> None:
    """Take an entry without results off the meet."""
    audit.record(actor, "withdrawn", entry, before=_public_fields(entry))
    entry.delete()


def _public_fields(entry: MeetEntry) -> dict[str, object]:
    return {name: value for name, value in audit.fields_of(entry).items() if name not in PRIVATE}


@transaction.atomic
def plan_loads(entry: MeetEntry, lift: str, loads: Sequence[Amount], actor: User) -> int:
    """Keep planned loads for the attempts that are neither handed in nor taken; returns how many were kept."""
    taken = {a.number: a for a in entry.attempts.select_for_update().filter(lift=lift)}
    kept = 0
    for number, load in enumerate(loads, start=1):
        row = taken.get(number)
        if row is not None and (row.result or row.declared_at):
            continue
        Attempt.objects.update_or_create(
            entry=entry, lift=lift, number=number,
            defaults={"load_typed": load.typed, "load_unit": load.unit, "load_kg": load.value},
        )  # fmt: skip
        kept += 1
    audit.record(actor, "planned attempts", entry, after={"loads": [load.typed for load in loads], "lift": lift})
    return kept


def standing_words(row: Attempt | None) -> str:
    """What stands of an attempt, as text that two phones compare: "" for none, else load, result and reason."""
    if row is None:
        return ""
    result = Result.NOT_TRIED if row.result == Result.STOPPED_PAIN else row.result  # pain is health, told elsewhere
    return f"{row.load_typed} {row.load_unit}|{result}|{row.reason}"


@transaction.atomic
def say_attempt(entry: MeetEntry, said: AttemptReport, actor: User) -> WriteResult:
    """Write what was said of an attempt, once, and never over something the sayer has not seen."""
    MeetEntry.objects.select_for_update(of=("self",)).get(pk=entry.pk)
    row = entry.attempts.filter(lift=said.lift, number=said.number).first()
    if row is not None and (said.uid in row.uids if said.uid else _same(row, said)):
        return WriteResult("already")
    if said.saw is not None and said.saw != standing_words(row):
        if row is not None and _same(row, said):
            return WriteResult("already")
        return WriteResult("conflict", f"Attempt {said.number} of {entry} stands as {_in_words(row)} meanwhile.")
    _write(entry, row, said, actor)
    return WriteResult("stored")


def _same(row: Attempt, said: AttemptReport) -> bool:
    """Whether the row says the same already; a plan that is handed in now does not."""
    told = (row.load_typed, row.load_unit, row.result, row.reason)
    return told == (said.load.typed, said.load.unit, said.result, said.reason) and row.declared_at is not None


def _in_words(row: Attempt | None) -> str:
    if row is None:
        return "not there"
    result = f", {RESULT_WORDS[row.result]}" if row.result else ", no result"
    return f"{row.load_typed} {row.load_unit}{result}"


def _write(entry: MeetEntry, row: Attempt | None, said: AttemptReport, actor: User) -> None:
    before = audit.fields_of(row) if row else None
    row = row or Attempt(entry=entry, lift=said.lift, number=said.number, load_kg=said.load.value)
    if row.declared_at and not row.result and not said.result and row.load_kg != said.load.value:
        row.changes += 1
    row.load_typed, row.load_unit, row.load_kg = said.load.typed, said.load.unit, said.load.value
    row.declared_at = row.declared_at or said.at
    row.ended_at = (row.ended_at if row.result else said.at) if said.result else None
    row.result, row.reason = said.result, said.reason
    row.uids = [*row.uids, said.uid][-20:] if said.uid else row.uids
    row.save()
    audit.record(actor, "meet attempt", row, before, audit.fields_of(row))


def log_uid(attempt: Attempt) -> uuid.UUID:
    """The uid of the set that an attempt becomes in the log: always the same, so that it is written once."""
    entry = attempt.entry
    return uuid.uuid5(entry.own_athlete.uid, f"meet {entry.meet_id} {attempt.lift} {attempt.number}")


def loggable(entry: MeetEntry) -> list[Attempt]:
    """Deadlift attempts with a result that was lifted, in order."""
    tried = (Result.MADE, Result.MISSED, Result.NO_LIFT, Result.STOPPED_PAIN)
    return list(entry.attempts.filter(lift=Lift.DEADLIFT, result__in=tried).select_related("entry__athlete"))


def not_yet_logged(entry: MeetEntry) -> list[Attempt]:
    """Those of them that the log does not hold and from which nobody took it back."""
    rows = loggable(entry)
    held = set(entry.own_athlete.sets.filter(uid__in=[log_uid(a) for a in rows]).values_list("uid", flat=True))
    return [a for a in rows if log_uid(a) not in held and not was_taken_back(entry.own_athlete, log_uid(a))]


@transaction.atomic
def write_to_log(entry: MeetEntry, actor: User) -> int:
    """The entry's deadlifts as single sets of the meet's day; returns how many were new."""
    athlete = Athlete.objects.select_for_update(of=("self",), no_key=True).get(pk=entry.own_athlete.pk)
    last = athlete.sets.filter(day=entry.meet.day).aggregate(last=Max("order"))["last"] or 0
    best = max((a.load_kg for a in loggable(entry) if a.result == Result.MADE), default=0.0)
    written = 0
    for place, attempt in enumerate(not_yet_logged(entry), start=1):
        written += log_set(actor, athlete, set_of(attempt, last + place, best))[1]
    return written


def set_of(attempt: Attempt, order: int, best_kg: float) -> LiftSet:
    """A deadlift attempt as a set of the log, tagged with the meet in its note.

    Only the day's best counts as a test of the best: an opener is far from one.
    """
    entry, made = attempt.entry, attempt.result == Result.MADE
    missed = attempt.result in (Result.MISSED, Result.STOPPED_PAIN)
    return LiftSet(
        uid=log_uid(attempt), day=entry.meet.day, order=order, lift=Lift.DEADLIFT, style=entry.style,
        load_typed=attempt.load_typed, load_unit=attempt.load_unit, load_kg=attempt.load_kg,
        reps_made=int(made), reps_tried=1, result=attempt.result, bar_kind=entry.meet.bar_kind, grip=_usual_grip(entry),
        rule_reason=(attempt.reason or RuleReason.OTHER_RULE) if attempt.result == Result.NO_LIFT else "",
        miss_position=attempt.reason if missed else "", is_test=made and attempt.load_kg == best_kg,
        note=f"Meet: {entry.meet.name}, attempt {attempt.number}",
    )  # fmt: skip


def _usual_grip(entry: MeetEntry) -> str:
    """The grip of the lifter's latest pull without straps in that style; a meet allows none."""
    pulls = entry.own_athlete.sets.filter(lift=Lift.DEADLIFT, style=entry.style, straps=False, day__lte=entry.meet.day)
    return pulls.order_by("-day", "-order").values_list("grip", flat=True).first() or Grip.UNKNOWN
