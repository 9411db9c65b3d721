"""One athlete's row of the squad review: dates, counts and reasons, no body mass."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from analysis.core.records.messages import Words


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
