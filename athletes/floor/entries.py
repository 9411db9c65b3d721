"""Taking in what phones on the floor have queued: each entry once, in order, never over somebody else's change.

An entry carries an id made on the phone. The answer to each is one of `stored`, `already` (it was here), `conflict`
(somebody else did something the phone had not seen; the person decides), `clock` (the phone's clock cannot have been
right; the person says the day) and `refused` (with the reason in words).
"""

import uuid
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from django.db import IntegrityError, transaction
from django.utils import timezone
from django.utils.dateparse import parse_datetime

from athletes.access.permissions import may, visible_athletes
from athletes.log import services as log
from athletes.log.forms import LiftForm
from athletes.meets.entries import take_attempt
from athletes.models import Athlete, Club, LiftSet, Presence, User

SAME_SET_WITHIN = timedelta(minutes=20)
OLDEST = timedelta(days=60)
CLOCK_AHEAD = timedelta(minutes=2)  # of a phone that is as good as right
Entry = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of one entry."""

    uid: str
    status: str
    why: str = ""
    other: LiftSet | None = None
    row: LiftSet | None = None


def take_entry(user: User, club: Club, entry: Entry) -> Outcome:
    """Do what one queued entry says, once."""
    uid = readable_uid(entry.get("uid"))
    if uid is None:
        return Outcome(str(entry.get("uid"))[:60], "refused", "The entry has no id.")
    takers: dict[str, Callable[..., Outcome]] = {"set": take_set, "undo": take_undo, "here": take_presence}
    kind = entry.get("kind")
    if kind == "attempt":
        return Outcome(str(uid), *take_attempt(user, club, str(uid), entry, moment_of(entry, club)))
    taker = takers.get(kind) if isinstance(kind, str) else None
    athlete = find_athlete(user, club, entry.get("athlete"))
    if taker is None:
        return Outcome(str(uid), "refused", "This kind of entry is not known; the page may be older than the server.")
    if athlete is None:
        return Outcome(str(uid), "refused", "This lifter is not, or no longer, one you can log for.")
    try:
        return taker(user, athlete, uid, entry)
    except ClockOff as off:
        return Outcome(str(uid), "clock", str(off))


def find_athlete(user: User, club: Club, pk: object) -> Athlete | None:
    """The lifter of the club, if the user may log for them."""
    if not isinstance(pk, int) or isinstance(pk, bool) or not 0 < pk < 2**63:
        return None
    athlete = visible_athletes(user).filter(pk=pk, club=club).first()
    return athlete if athlete is not None and may(user, athlete, "log") else None


def readable_uid(text: object) -> uuid.UUID | None:
    try:
        return uuid.UUID(text) if isinstance(text, str) else None
    except ValueError:
        return None


class ClockOff(ValueError):
    """The day of an entry is not known; the message asks for it."""


def moment_of(entry: Entry, club: Club) -> datetime:
    """When it happened by the phone's clock, in the club's zone; now for a clock that is ahead within the same day."""
    now = timezone.now().astimezone(ZoneInfo(club.timezone))
    at = phone_time(entry, now)
    if at is None or at < now - OLDEST or at > now + CLOCK_AHEAD:
        return now
    return at


def sure_moment_of(entry: Entry, club: Club) -> datetime:
    """When it happened, in the club's zone, on the day the person said where the clock of the phone was far off.

    Raises ClockOff when the clock names another day that cannot be and nobody has said one: stored as today, last
    week's set would count as tonight's.
    """
    now = timezone.now().astimezone(ZoneInfo(club.timezone))
    at = phone_time(entry, now)
    day = said_day(entry, now.date())
    if day is not None:
        clock = at.timetz() if at else now.timetz()  # a wrong clock still tells which entry came first
        return min(now, datetime.combine(day, clock))
    if at is None:
        raise ClockOff("The phone did not say when this was. Say the day.")
    if at < now - OLDEST or (at > now + CLOCK_AHEAD and at.date() != now.date()):
        raise ClockOff(f"The phone's clock said {at:%-d %B %Y, %H:%M}, which cannot be right. Say the day.")
    return moment_of(entry, club)


def phone_time(entry: Entry, now: datetime) -> datetime | None:
    """The phone's time of an entry in the zone of `now`; None when it cannot be read."""
    text = entry.get("at")
    try:
        at = parse_datetime(text) if isinstance(text, str) else None
        return at.astimezone(now.tzinfo) if at is not None and at.tzinfo is not None else None
    except (ValueError, OverflowError):
        return None


def said_day(entry: Entry, today: date) -> date | None:
    """The day a person typed for an entry, from 60 days ago to today."""
    text = entry.get("day")
    try:
        day = date.fromisoformat(text) if isinstance(text, str) else None
    except ValueError:
        return None
    return day if day is not None and today - OLDEST <= day <= today else None


def take_set(user: User, athlete: Athlete, uid: uuid.UUID, entry: Entry) -> Outcome:
    stored = athlete.sets.filter(uid=uid).first()
    if stored is not None:
        return Outcome(str(uid), "already", row=stored)
    if log.was_taken_back(athlete, uid):
        return Outcome(str(uid), "already", "It was taken back since.")
    at = sure_moment_of(entry, athlete.club)
    form = LiftForm(form_data(entry.get("fields"), at), athlete=athlete)
    if not form.is_valid():
        return Outcome(str(uid), "refused", error_words(form))
    row = form.save(commit=False)
    row.uid, row.order = uid, log.clock_order(at)
    return write_unless_double(user, athlete, row, entry)


def write_unless_double(user: User, athlete: Athlete, row: LiftSet, entry: Entry) -> Outcome:
    """Look for a double and write in one transaction under the lifter's lock, so that two phones cannot both pass."""
    uid = str(row.uid)
    try:
        with transaction.atomic():
            Athlete.objects.select_for_update(of=("self",), no_key=True).get(pk=athlete.pk)
            other = None if entry.get("sure") is True else unseen_double(user, athlete, row, entry)
            if other is not None:
                said = f"{other.author or 'Somebody'} logged {other} for {athlete.name} too."
                return Outcome(uid, "conflict", said, other)
            row, new = log.log_set(user, athlete, row)
    except IntegrityError:
        return Outcome(uid, "refused", "The id of this entry is taken.")
    return Outcome(uid, "stored" if new else "already", row=row)


def form_data(fields: object, at: datetime) -> dict[str, Any]:
    """The entry's fields as a form takes them; the day is the day it happened."""
    given = fields if isinstance(fields, dict) else {}
    plain = {k: "on" if v is True else str(v) for k, v in given.items() if v not in (None, False, "")}
    return {**plain, "day": f"{at:%Y-%m-%d}"}


def error_words(form: LiftForm) -> str:
    return " ".join(
        f"{form.fields[name].label or name}: {' '.join(map(str, found))}"
        if name in form.fields
        else " ".join(map(str, found))
        for name, found in form.errors.items()
    )


def unseen_double(user: User, athlete: Athlete, row: LiftSet, entry: Entry) -> LiftSet | None:
    """Somebody else's set that is the same pull, load and reps at about the same time, unseen by this phone."""
    seen = (
        {u for u in map(readable_uid, entry.get("seen") or []) if u} if isinstance(entry.get("seen"), list) else set()
    )
    near = int(SAME_SET_WITHIN.total_seconds() * 10)
    others = athlete.sets.filter(
        day=row.day, lift=row.lift, style=row.style, reps_tried=row.reps_tried, result=row.result,
        load_kg__range=(row.load_kg - 0.25, row.load_kg + 0.25), order__range=(row.order - near, row.order + near),
    ).exclude(author=user)  # fmt: skip
    return next((other for other in others.select_related("author") if other.uid not in seen), None)


def take_undo(user: User, athlete: Athlete, uid: uuid.UUID, entry: Entry) -> Outcome:
    """Take a set back, unless somebody changed it after the phone saw it."""
    target = readable_uid(entry.get("set"))
    row = athlete.sets.filter(uid=target).first() if target else None
    if row is None:
        return Outcome(str(uid), "already", "The set is not there any more.")
    changed = row.author_id != user.pk or log.was_corrected(row)
    if changed and entry.get("saw") != row.changed.isoformat() and entry.get("sure") is not True:
        return Outcome(str(uid), "conflict", f"{row} for {athlete.name} was changed since you saw it.", row)
    log.take_back_set(user, row)
    return Outcome(str(uid), "stored")


def take_presence(user: User, athlete: Athlete, uid: uuid.UUID, entry: Entry) -> Outcome:
    """Mark as here, or as gone, on the day it was said; saying it again changes nothing."""
    day = sure_moment_of(entry, athlete.club).date()
    set_presence(user, athlete, day, entry.get("here") is True)
    return Outcome(str(uid), "stored")


def set_presence(user: User, athlete: Athlete, day: date, here: bool) -> None:
    if here:
        with transaction.atomic():
            Presence.objects.bulk_create([Presence(athlete=athlete, day=day, marked_by=user)], ignore_conflicts=True)
    else:
        athlete.presences.filter(day=day).delete()
