"""What was logged, as the core sees it: frozen, SI, dates as `datetime.date`, no rows and no users."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from analysis.core.records.bodies import BodyInput


@dataclass(frozen=True, slots=True)
class PullTags:
    """Everything two sets must share to be comparable; heights and diameters in m, terms from `terms`."""

    lift: str = "deadlift"
    style: str = ""  # "" = not noted
    shape: str = "unseen"
    bar: str = "unknown"
    start: str = "floor"
    start_offset_m: float = 0.0  # + block, - deficit, relative to the floor start
    disc_diameter_m: float = 0.45
    grip: str = "unknown"
    straps: bool = False
    belt: bool = False
    suit: bool = False
    dead_stop: bool = True
    paused: bool = False
    depth_verified: bool = False  # squats: hips level with knees was seen


@dataclass(frozen=True, slots=True)
class SetRecord:
    """One logged set; load in kg, reps in reserve as a range (None = not noted)."""

    key: str
    day: date
    load_kg: float
    reps_made: int
    reps_tried: int
    tags: PullTags
    result: str = "made"
    rir_low: float | None = None
    rir_high: float | None = None
    miss_positions: tuple[str, ...] = ()
    gave_way: str = ""
    rule_reason: str = ""
    slowest_at: str = ""
    what_changed: str = ""
    pull_seconds: float | None = None
    in_new_style: str = ""  # "", "yes", "partly", "no"
    trial_key: str = ""
    is_test: bool = False


@dataclass(frozen=True, slots=True)
class DayRecord:
    """The optional note of a training day; soreness and energy 0-10, sleep in hours, mass in kg."""

    day: date
    soreness: int | None = None
    soreness_site: str = ""
    sleep_hours: float | None = None
    energy: int | None = None
    body_mass_kg: float | None = None
    pain_event: bool = False


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
