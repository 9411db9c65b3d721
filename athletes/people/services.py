"""Athletes: added and changed with a trail; standing that never contradicts a birth date; what bounds a stance."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from math import radians

from django.db import transaction
from django.utils import timezone

from athletes.access.audit import fields_of, record
from athletes.measuring.stale import is_minor
from athletes.models import Athlete, AuditEntry, Bar, Club, FirstMeeting, HealthNote, SettingOverride, StyleRecord, User
from athletes.models.choices import Standing

DISC_GAP_M = 1.31  # inner faces of the discs on a stiff bar: distance between the collars, from memory
SHOE_WIDTH_M = 0.105  # a flat shoe across the ball of the foot, when it was not measured; from memory


def standing_on(athlete: Athlete, day: date) -> str:
    """The standing that holds on a day: under 18 by birth date whatever is stored, and never under 18 after it.

    Somebody who has come of age counts as a beginner until the coach says otherwise.
    """
    if is_minor(athlete, day):
        return Standing.UNDER_18
    return Standing.BEGINNER if athlete.standing == Standing.UNDER_18 else athlete.standing


@transaction.atomic
def save_athlete(actor: User, athlete: Athlete) -> Athlete:
    """Write a new or changed athlete; the standing follows the birth date, and the trail keeps what it was."""
    known = Athlete.objects.select_for_update(no_key=True)
    before = None if athlete.pk is None else fields_of(known.get(pk=athlete.pk))
    athlete.standing = standing_on(athlete, timezone.localdate())
    athlete.save()
    record(actor, "added" if before is None else "corrected", athlete, before, fields_of(athlete))
    return athlete


@transaction.atomic
def save_first_meeting(
    actor: User,
    meeting: FirstMeeting,
    styles: Iterable[StyleRecord],
    standing: str = "",
    injury: HealthNote | None = None,
) -> None:
    """Write what was said and tried; `standing` only when the actor may decide it, `injury` only from coach or self."""
    athlete = meeting.athlete
    before = None if meeting.pk is None else fields_of(FirstMeeting.objects.get(pk=meeting.pk))
    meeting.updated_by = actor
    meeting.save()
    record(actor, "added" if before is None else "corrected", meeting, before, fields_of(meeting))
    for row in styles:
        keep_style(row)
    if standing and standing != athlete.standing:
        athlete.standing = standing
        save_athlete(actor, athlete)
    if injury is not None:
        add_health_note(actor, injury)


def keep_style(row: StyleRecord) -> None:
    """Write one style's history; an emptied one is removed."""
    if row.years is None and row.best_kg is None and row.best_on is None and row.last_on is None:
        if row.pk:
            row.delete()
    else:
        row.save()


@transaction.atomic
def add_health_note(actor: User, note: HealthNote) -> HealthNote:
    """Write a private note; the trail says that there is one, never what it says."""
    note.author = actor
    note.save()
    record(actor, "added", note, after={"private": True}, athlete=note.athlete)
    return note


@transaction.atomic
def end_health_note(actor: User, note: HealthNote, day: date) -> None:
    """The trouble is over from that day; the note stays."""
    note.ended_on = day
    note.save(update_fields=["ended_on"])
    record(actor, "ended", note, after={"private": True}, athlete=note.athlete)


@dataclass(frozen=True)
class StanceBounds:
    """What bounds every stance of an athlete, ankle to ankle in m; None where it was not tried.

    `disc_gap_less_shoes_m` is the widest that fits between the discs with the toes pointing ahead; turned-out toes
    reach further, so less fits.
    """

    comfortable_m: float | None
    turnout_rad: float | None
    hip_pinch: bool
    disc_gap_m: float
    shoe_width_m: float
    shoe_measured: bool

    @property
    def disc_gap_less_shoes_m(self) -> float:
        return self.disc_gap_m - self.shoe_width_m

    @property
    def widest_m(self) -> float:
        """The narrower of what was comfortable with a dowel and what fits between the discs."""
        fits = self.disc_gap_less_shoes_m
        return fits if self.comfortable_m is None else min(self.comfortable_m, fits)


def stance_bounds(athlete: Athlete, bar: Bar | None = None) -> StanceBounds:
    """What the first meeting and the bar (a stiff one when left out) allow."""
    meeting = FirstMeeting.objects.filter(athlete=athlete).first() or FirstMeeting(athlete=athlete)
    shoe = meeting.shoe_width_cm
    return StanceBounds(
        comfortable_m=None if meeting.stance_cm is None else meeting.stance_cm / 100,
        turnout_rad=None if meeting.turnout_deg is None else radians(meeting.turnout_deg),
        hip_pinch=meeting.hip_pinch,
        disc_gap_m=bar.span_m if bar is not None and bar.span_m else DISC_GAP_M,
        shoe_width_m=SHOE_WIDTH_M if shoe is None else shoe / 100,
        shoe_measured=shoe is not None,
    )


def bound_lines(bounds: StanceBounds) -> list[tuple[str, str]]:
    """The bounds in words and centimetres, for people."""
    shoe = "as measured" if bounds.shoe_measured else "not measured, taken as 10.5 cm"
    lines = [
        ("Between the discs of a stiff bar", f"{bounds.disc_gap_m * 100:.0f} cm"),
        ("Less the shoes", f"{bounds.disc_gap_less_shoes_m * 100:.0f} cm, shoe {shoe}; less with the toes turned out"),
    ]
    if bounds.comfortable_m is not None:
        lines.append(("Comfortable with a dowel", f"{bounds.comfortable_m * 100:.0f} cm"))
    lines.append(("So every stance stays within", f"{bounds.widest_m * 100:.0f} cm from ankle to ankle"))
    return lines


@transaction.atomic
def change_numbers(club: Club, athlete: Athlete | None, changes: Mapping[str, float], actor: User) -> list[str]:
    """Store each changed number and who changed it; returns the keys."""
    for key, value in changes.items():
        held = SettingOverride.objects.filter(club=club, athlete=athlete, key=key).first()
        before = {"value": held.value} if held else None
        SettingOverride.objects.update_or_create(
            club=club, athlete=athlete, key=key, defaults={"value": value, "changed_by": actor}
        )
        AuditEntry.objects.create(
            club=club, athlete=athlete, actor=actor, action="changed a number", target=key, before=before,
            after={"value": value},
        )  # fmt: skip
    return list(changes)
