"""What was logged, as the core sees it: frozen, SI, dates as `datetime.date`, no rows and no users."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from analysis.core.records.bodies import BodyInput
from athletes.schema.sets import DayRecord, PullTags, SetRecord


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
    comfortable_stance_m: float | None = None
    comfortable_turnout_rad: float | None = None
    hip_pinch: bool = False

    @property
    def body(self) -> BodyInput:
        """The lifter's measurements as the mechanics take them."""
        return BodyInput(self.sex, dict(self.measurements_m), dict(self.measurement_sd_m), self.age)


__all__ = ["DayRecord", "LifterRecord", "PullTags", "SetRecord"]
