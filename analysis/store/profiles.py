"""Stored profiles: read when their fingerprint still holds, computed when it does not, never shown stale."""

from __future__ import annotations

import hashlib
import logging
import time
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import cache, cached_property
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from django.db import DatabaseError, transaction
from django.db.models import QuerySet
from django.utils import timezone

from analysis.core.records.lifts import LifterRecord
from analysis.core.records.weak_link import StrengthRange
from analysis.core.settings import Settings
from analysis.models import StoredProfile
from analysis.store.bridge import lifter_record
from analysis.store.club_numbers import numbers_for
from athletes.access.audit import write_refused
from athletes.models import Athlete, Club, Revision

logger = logging.getLogger(__name__)
Payload = dict[str, Any]
WITHOUT_HEALTH = ".no-health"  # ends the stored kind that was computed without health
HAS_HEALTH = "has_health"  # in every payload: whether the athlete's record has health entries


@dataclass(frozen=True, slots=True)
class Profile:
    """A profile's payload for readers who may see health or may not; None while it is still to be computed."""

    athlete: Athlete
    payload: Payload | None
    sees_health: bool

    @property
    def updating(self) -> bool:
        """Whether the page must say "updating" instead of a number."""
        return self.payload is None


@cache
def code_version() -> str:
    """A hash of this app's own source: a changed formula, sentence or drawing makes every stored profile old."""
    digest = hashlib.sha256()
    for source in sorted(Path(__file__).resolve().parents[1].rglob("*.py")):
        digest.update(source.read_bytes())
    return digest.hexdigest()


def fingerprint(revision: int, as_of: date) -> str:
    """What a profile was computed from: the athlete's revision, the day it is as of, and the code."""
    return hashlib.sha256(f"{revision}|{as_of.isoformat()}|{code_version()}".encode()).hexdigest()


def today_in(club: Club) -> date:
    """Today in the club's own time zone."""
    return timezone.localdate(timezone=ZoneInfo(club.timezone))


class Sources:
    """One athlete as of a day, and the fingerprint that holds; what the computing needs is read when asked for, once.

    The revision is read first, so a write in between only makes what is stored old at once. Readers who may not see
    health get what is computed from a record without it, stored apart where the athlete has health entries.
    """

    def __init__(self, athlete: Athlete, as_of: date, *, sees_health: bool) -> None:
        self.athlete, self.as_of, self.sees_health = athlete, as_of, sees_health
        self.held = fingerprint(Revision.objects.get(athlete=athlete).number, as_of)
        self._stored: dict[str, Payload | None] = {}

    @cached_property
    def _whole(self) -> LifterRecord:
        return lifter_record(self.athlete, self.as_of)

    @cached_property
    def lifter(self) -> LifterRecord:
        """The athlete's log and body as the core needs them, without health for who may not see it."""
        return self._whole if self.sees_health else self._whole.without_health()

    @cached_property
    def _has_health(self) -> bool:
        return self._whole.without_health() is not self._whole

    @cached_property
    def numbers(self) -> Settings:
        """The settings that hold for the athlete."""
        return numbers_for(self.athlete)

    @property
    def strengths(self) -> tuple[StrengthRange, ...]:
        """The strengths of the weak-link report, () where it names none."""
        return tuple(StrengthRange(**one) for one in self.profile("weak-link")["strengths"])

    def profile(self, kind: str) -> Payload:
        """The profile of a kind, stored or computed now and stored."""
        if kind not in self._stored:
            self.look_up(kind)
        payload = self._stored[kind]
        return self._computed(kind) if payload is None else payload

    def look_up(self, *kinds: str) -> None:
        """Read what is stored of several kinds at once."""
        asked = [name for kind in kinds for name in (kind, kind + WITHOUT_HEALTH)]
        rows = StoredProfile.objects.filter(athlete=self.athlete, kind__in=asked, fingerprint=self.held)
        found = dict(rows.values_list("kind", "payload"))
        self._stored |= {kind: _readable(found, kind, self.sees_health) for kind in kinds}

    def _computed(self, kind: str) -> Payload:
        return self.keep(kind, KINDS[kind](self))

    def keep(self, kind: str, payload: Payload) -> Payload:
        """Store a payload as what holds now for such readers; returns it."""
        payload = payload | {HAS_HEALTH: self._has_health}
        self._stored[kind] = payload
        try:
            with transaction.atomic():
                StoredProfile.objects.update_or_create(
                    athlete=self.athlete,
                    kind=kind + WITHOUT_HEALTH if self._has_health and not self.sees_health else kind,
                    defaults={"fingerprint": self.held, "as_of": self.as_of, "payload": payload},
                )
        except DatabaseError as error:  # the page can be shown all the same; the next visit computes again
            if not write_refused(error):
                raise
            logger.exception("A profile could not be stored")
        return payload


KINDS: dict[str, Callable[[Sources], Payload]] = {}  # filled by `register` at start-up; the store knows no page


def register(kind: str, compute: Callable[[Sources], Payload]) -> None:
    """Name the function that computes a kind of profile; called once for each kind when the app is ready."""
    KINDS[kind] = compute


def _readable(found: Mapping[str, Payload], kind: str, sees_health: bool) -> Payload | None:
    """Of the payloads by stored kind, the one this reader may have: one with health in it only for who may see it."""
    whole = found.get(kind)
    if sees_health or (whole is not None and whole[HAS_HEALTH] is False):
        return whole
    return found.get(kind + WITHOUT_HEALTH)


def profile_of(athlete: Athlete, kind: str, as_of: date, *, sees_health: bool) -> Payload:
    """One athlete's profile of a kind, stored or computed now and stored."""
    return Sources(athlete, as_of, sees_health=sees_health).profile(kind)


def sees_health(_: Athlete) -> bool:
    """A reader who may see health, as the coach and the athlete may."""
    return True


def sees_none(_: Athlete) -> bool:
    """A reader who may not."""
    return False


def stored_profiles(
    athletes: QuerySet[Athlete], kind: str, as_of: date, sees_health: Callable[[Athlete], bool]
) -> list[Profile]:
    """Every athlete's stored profile where it still holds, else an "updating" one; three queries for any squad.

    `sees_health` says of each athlete whether the reader may see health.
    """
    people = list(athletes.select_related("revision", "coach"))
    stored: dict[int, dict[str, StoredProfile]] = {}
    for row in StoredProfile.objects.filter(athlete__in=athletes, kind__in=(kind, kind + WITHOUT_HEALTH)):
        stored.setdefault(row.athlete_id, {})[row.kind] = row
    found = []
    for one in people:
        holds = fingerprint(one.revision.number, as_of)
        rows = {name: row.payload for name, row in stored.get(one.pk, {}).items() if row.fingerprint == holds}
        found.append(Profile(one, _readable(rows, kind, sees_health(one)), sees_health(one)))
    return found


def refresh(profiles: Iterable[Profile], kind: str, as_of: date, seconds: float = 1.0) -> list[Profile]:
    """The same profiles with the missing ones computed, as far as `seconds` reach; at least one is done."""
    ends, done = time.monotonic() + seconds, []
    worked = False
    for profile in profiles:
        if profile.updating and (not worked or time.monotonic() < ends):
            payload = profile_of(profile.athlete, kind, as_of, sees_health=profile.sees_health)
            profile = replace(profile, payload=payload)
            worked = True
        done.append(profile)
    return done
