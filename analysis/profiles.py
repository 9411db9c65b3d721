"""Stored profiles: read when their fingerprint still holds, computed when it does not, never shown stale."""

from __future__ import annotations

import hashlib
import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from django.db.models import Max, Q, QuerySet
from django.utils import timezone

from analysis.advice.squad_review import squad_row
from analysis.advice.summary import athlete_summary
from analysis.bridge import lifter_record
from analysis.club_numbers import numbers_for
from analysis.models import StoredProfile
from analysis.progress_pages.back_load import compute_back_load
from analysis.progress_pages.bar_grip import compute_bar_grip
from analysis.progress_pages.progress import compute_progress
from analysis.records.plain import to_plain
from analysis.records.weak_points import StrengthRange
from analysis.trial_reading import running_trial, verdict_of
from analysis.weak_link_page import compute_weak_link
from athletes.models import Athlete, Club, MeasuringVisit, Revision, Trial
from athletes.models.choices import TrialStatus

Payload = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Profile:
    """A profile's payload; None while it is still to be computed."""

    athlete: Athlete
    payload: Payload | None

    @property
    def updating(self) -> bool:
        """Whether the page must say "updating" instead of a number."""
        return self.payload is None


@cache
def code_version() -> str:
    """A hash of this app's own source: a changed formula, sentence or drawing makes every stored profile old."""
    digest = hashlib.sha256()
    for source in sorted(Path(__file__).resolve().parent.rglob("*.py")):
        digest.update(source.read_bytes())
    return digest.hexdigest()


def fingerprint(revision: int, as_of: date) -> str:
    """What a profile was computed from: the athlete's revision, the day it is as of, and the code."""
    return hashlib.sha256(f"{revision}|{as_of.isoformat()}|{code_version()}".encode()).hexdigest()


def today_in(club: Club) -> date:
    """Today in the club's own time zone."""
    return timezone.localdate(timezone=ZoneInfo(club.timezone))


def compute_squad(athlete: Athlete, as_of: date) -> Payload:
    """The squad row of one athlete, from rows."""
    trial = Trial.objects.filter(athlete=athlete, status=TrialStatus.RUNNING).first()
    built = Q(measurements__isnull=False) & ~Q(measurements__key="mass")
    measured = MeasuringVisit.objects.filter(built, athlete=athlete, day__lte=as_of).aggregate(on=Max("day"))["on"]
    row = squad_row(
        lifter_record(athlete, as_of),
        as_of,
        numbers_for(athlete),
        decide_on=trial.decide_on if trial else None,
        measured_on=measured,
    )
    return to_plain(row)


def compute_summary(athlete: Athlete, as_of: date) -> Payload:
    """The own page of one athlete, with the state of a running trial, from rows."""
    numbers = numbers_for(athlete)
    lifter = lifter_record(athlete, as_of)
    payload: Payload = to_plain(athlete_summary(lifter, as_of, numbers))
    trial = running_trial(athlete)
    payload["trial"] = to_plain(verdict_of(trial, as_of)) if trial else None
    return payload


def strengths_of(athlete: Athlete, as_of: date) -> tuple[StrengthRange, ...]:
    """The strengths of the stored weak-link report, () where it names none."""
    return tuple(StrengthRange(**one) for one in profile_of(athlete, "weak-link", as_of)["strengths"])


KINDS: dict[str, Callable[[Athlete, date], Payload]] = {
    "squad": compute_squad,
    "summary": compute_summary,
    "weak-link": compute_weak_link,
    "progress": compute_progress,
    "back-load": lambda athlete, as_of: compute_back_load(athlete, as_of, strengths_of(athlete, as_of)),
    "bar-and-grip": lambda athlete, as_of: compute_bar_grip(athlete, as_of, strengths_of(athlete, as_of)),
}


def profile_of(athlete: Athlete, kind: str, as_of: date) -> Payload:
    """One athlete's profile of a kind, stored or computed now and stored."""
    revision = Revision.objects.get(athlete=athlete).number
    held = fingerprint(revision, as_of)
    stored = StoredProfile.objects.filter(athlete=athlete, kind=kind, fingerprint=held).first()
    return stored.payload if stored else _compute(athlete, kind, as_of, held)


def _compute(athlete: Athlete, kind: str, as_of: date, held: str) -> Payload:
    """Compute and store; the revision was read before the rows, so a write in between only makes it old at once."""
    payload = KINDS[kind](athlete, as_of)
    StoredProfile.objects.update_or_create(
        athlete=athlete, kind=kind, defaults={"fingerprint": held, "as_of": as_of, "payload": payload}
    )
    return payload


def stored_profiles(athletes: QuerySet[Athlete], kind: str, as_of: date) -> list[Profile]:
    """Every athlete's stored profile where it still holds, else an "updating" one; three queries for any squad."""
    people = list(athletes.select_related("revision", "coach"))
    rows = StoredProfile.objects.filter(athlete__in=athletes, kind=kind)
    stored = {row.athlete_id: row for row in rows}
    return [Profile(a, _held(stored.get(a.pk), a.revision.number, as_of)) for a in people]


def _held(stored: StoredProfile | None, revision: int, as_of: date) -> Payload | None:
    return stored.payload if stored and stored.fingerprint == fingerprint(revision, as_of) else None


def refresh(profiles: Iterable[Profile], kind: str, as_of: date, seconds: float = 1.0) -> list[Profile]:
    """The same profiles with the missing ones computed, as far as `seconds` reach; at least one is done."""
    ends, done = time.monotonic() + seconds, []
    worked = False
    for profile in profiles:
        if profile.updating and (not worked or time.monotonic() < ends):
            profile = Profile(profile.athlete, profile_of(profile.athlete, kind, as_of))
            worked = True
        done.append(profile)
    return done
