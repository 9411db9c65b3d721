"""What an athlete's own page says: bests, rep bests, how far to the next step, the trial's state."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class BestLine:
    """The running best of one comparable kind with its band, kg, its heaviest real single and last day."""

    style: str
    label: str
    now_kg: float
    low_kg: float
    high_kg: float
    single_kg: float | None
    single_on: date | None
    single_key: str
    last_on: date
    days: int


@dataclass(frozen=True, slots=True)
class RepBest:
    """The heaviest load made for at least that many reps in one style from the floor; `fresh` = in the last 28 days."""

    style: str
    reps: int
    load_kg: float
    day: date
    key: str
    fresh: bool


@dataclass(frozen=True, slots=True)
class AthleteSummary:
    """The own page as of a day; loads in kg."""

    as_of: date
    bests: tuple[BestLine, ...]
    rep_bests: tuple[RepBest, ...]
    heaviest_kg: float | None
    heaviest_on: date | None
    heaviest_key: str
    made_28: int
    missed_28: int
    sets_unused: int
    next_meet: date | None
    days_to_meet: int | None
    words: tuple[str, ...]
