"""What was logged, as the core sees it: frozen, SI, dates as `datetime.date`, no rows and no users."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import date

from analysis.core.records.bodies import BodyInput
from athletes.schema.postures import PostureNote
from athletes.schema.sets import DayRecord, PullTags, SetRecord
from athletes.schema.vocabulary import ADULT_AGE, Result, Standing


@dataclass(frozen=True, slots=True)
class LifterRecord:
    """One athlete as the core needs them; sex picks the reference table ("m" or "f"), age in years."""

    key: str
    sex: str
    age: float | None
    standing: str
    measurements_m: dict[str, float]  # anthropometry variable -> m, mass under "mass" in kg
    measurement_sd_m: dict[str, float] = field(default_factory=dict)
    back_pain_noted: bool = False
    pain_noted: bool = False
    trained_styles: tuple[str, ...] = ()
    sets: tuple[SetRecord, ...] = ()
    days: tuple[DayRecord, ...] = ()
    next_meet: date | None = None
    important_meet: date | None = None  # the next one marked as important
    wishes_two_heavy_days: bool = False
    comfortable_stance_m: float | None = None
    comfortable_turnout_rad: float | None = None
    hip_pinch: bool = False
    posture_notes: tuple[PostureNote, ...] = ()  # the oldest first

    @property
    def body(self) -> BodyInput:
        """The lifter's measurements as the mechanics take them."""
        return BodyInput(self.sex, dict(self.measurements_m), dict(self.measurement_sd_m), self.age)

    @property
    def is_minor(self) -> bool:
        """Under 18 by standing or by age: either is enough to be careful."""
        return self.standing == Standing.UNDER_18 or (self.age is not None and self.age < ADULT_AGE)

    def without_health(self) -> LifterRecord:
        """The record for readers who may not see health: no soreness, pain, pinch or health notes in it.

        A set stopped for pain counts as not tried. The same object comes back where there is nothing to leave out.
        """
        days = tuple(day for day in map(_day_without_health, self.days) if day is not None)
        sets = tuple(map(_set_without_health, self.sets))
        bare = replace(self, back_pain_noted=False, pain_noted=False, hip_pinch=False, days=days, sets=sets)
        return self if bare == self else bare


def _day_without_health(day: DayRecord) -> DayRecord | None:
    """The day's note without soreness and pain; None where nothing else was noted."""
    bare = replace(day, soreness=None, soreness_site="", pain_event=False)
    return None if bare == DayRecord(day.day) != day else bare


def _set_without_health(one: SetRecord) -> SetRecord:
    if one.result != Result.STOPPED_PAIN:
        return one
    return replace(one, result=Result.NOT_TRIED, miss_position="", second_position="", gave_way="")


__all__ = ["DayRecord", "LifterRecord", "PostureNote", "PullTags", "SetRecord"]
