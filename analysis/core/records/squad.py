"""One athlete's row of the squad review: dates, counts and reasons, no body mass."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from analysis.core.records.messages import Message, Words


@dataclass(frozen=True, slots=True)
class Reason:
    """Why the coach should look: a code, an urgency (1 first), words or a message, the rows behind it."""

    code: str
    urgency: int
    text: Words
    set_keys: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class StyleNow:
    """The running best of the most used comparable kind of one style, kg, now and four weeks ago."""

    style: str
    label: str
    now_kg: float
    low_kg: float
    high_kg: float
    four_weeks_ago_kg: float | None
    heavy_sets_28: int


@dataclass(frozen=True, slots=True)
class SquadRow:
    """What the squad page shows of one athlete as of a day; reasons come most urgent first."""

    as_of: date
    last_logged: date | None
    days_since: int | None
    last_heavy: date | None
    heavy_pulls_28: int
    next_meet: date | None
    styles: tuple[StyleNow, ...]
    reasons: tuple[Reason, ...]
    miss_count_28: int
    set_count: int


class Due(StrEnum):
    """When a lifter needs the coach."""

    TODAY = "today"
    WEEK = "week"


@dataclass(frozen=True, slots=True)
class WallReason:
    """Why a lifter stands on the squad wall: message and button, when, where it is settled, what it rests on.

    `leads` names a place to go, `evidence` changes when something new was logged, so that what was set aside stays
    aside until then.
    """

    code: str
    due: Due
    message: Message
    button: Message
    leads: str
    evidence: str
    private: bool = False


@dataclass(frozen=True, slots=True)
class WallSigns:
    """What log and calendar add to the one answer, as of a day.

    misses and slips: missed pulls and those where the grip went, 12 weeks; heavy_miss: share of the best and day of the
    latest heavy miss of the last days; harder: by how much the same work felt harder (RPE) and the row it ends at;
    stale_days: age of measurements past their time; private: newest day of pain or soreness to look at, "" for none.
    """

    day: date
    last_logged: date | None = None
    last_heavy: date | None = None
    next_meet: date | None = None
    misses: int = 0
    slips: int = 0
    last_miss: str = ""
    heavy_miss: tuple[float, date] | None = None
    harder: tuple[float, str] | None = None
    stale_days: int | None = None
    private: str = ""
