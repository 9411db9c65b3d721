"""Stored squad rows as the lines of a page."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Any

from analysis.store.profiles import Profile
from athletes.models import Athlete


@dataclass(frozen=True, slots=True)
class SquadLine:
    """One line: the athlete, the reasons, the dates as dates."""

    athlete: Athlete
    row: dict[str, Any] | None
    reasons: tuple[dict[str, Any], ...]
    last_logged: date | None
    last_heavy: date | None
    next_meet: date | None

    @property
    def urgency(self) -> int:
        """The most urgent reason's rank; 9 without one, 0 while updating, so that updating rows stay in sight."""
        if self.row is None:
            return 0
        return min((r["urgency"] for r in self.reasons), default=9)


def squad_lines(profiles: Iterable[Profile]) -> list[SquadLine]:
    """The lines of the page; a profile holds only what its reader may see."""
    return [_line(profile) for profile in profiles]


def _line(profile: Profile) -> SquadLine:
    row = profile.payload
    if row is None:
        return SquadLine(profile.athlete, None, (), None, None, None)
    dates = (_day(row[key]) for key in ("last_logged", "last_heavy", "next_meet"))
    return SquadLine(profile.athlete, row, tuple(row["reasons"]), *dates)


def _day(text: str | None) -> date | None:
    return date.fromisoformat(text) if text else None
