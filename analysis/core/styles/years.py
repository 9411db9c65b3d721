"""An athlete's styles through the years: the best of each month, the best of each style, pauses in between."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from analysis.core.estimates.history import Gap, HeaviestLift, floor_deadlifts, gaps, heaviest_lifts
from analysis.core.records.lifts import LifterRecord
from analysis.core.settings import DEFAULTS, Settings


@dataclass(frozen=True, slots=True)
class MonthBest:
    """The heaviest floor pull made in one style in one calendar month, kg."""

    style: str
    day: date
    load_kg: float
    key: str


@dataclass(frozen=True, slots=True)
class StyleYears:
    """Months of each style, bests of each style and of all time, pauses."""

    points: tuple[MonthBest, ...]
    bests: tuple[HeaviestLift, ...]
    gaps: tuple[Gap, ...]


def style_years(lifter: LifterRecord, as_of: date, settings: Settings = DEFAULTS) -> StyleYears:
    """The long view of an athlete's styles up to a day."""
    rows = [s for s in floor_deadlifts(lifter.sets) if s.day <= as_of and s.tags.style]
    months: dict[tuple[str, int, int], MonthBest] = {}
    for one in rows:
        key = (one.tags.style, one.day.year, one.day.month)
        if key not in months or one.load_kg > months[key].load_kg:
            months[key] = MonthBest(one.tags.style, one.day, one.load_kg, one.key)
    points = tuple(sorted(months.values(), key=lambda m: (m.style, m.day)))
    return StyleYears(points, heaviest_lifts(lifter.sets), gaps(lifter.sets, lifter.days, as_of, settings))
