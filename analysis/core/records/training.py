"""What the dashboards show: series by comparable kind, misses and work by period, timed pulls; kg, days, seconds."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from analysis.core.records.estimates import BackLoad, Comparison, Finding, RealSingle, StartHeight

INTENSITY_BANDS = ("under 70 %", "70 to 80 %", "80 to 90 %", "90 % and up", "share not known")


@dataclass(frozen=True, slots=True)
class Movement:
    """A best then and now, kg; `since` is the day it is held against, `chance_up` (0-1) that it rose."""

    since: date
    then_kg: float
    now_kg: float
    chance_up: float


@dataclass(frozen=True, slots=True)
class MissMark:
    """A missed set as a figure marks it: day, kg, where the bar stopped ("" = not noted)."""

    day: date
    load_kg: float
    position: str
    key: str


@dataclass(frozen=True, slots=True)
class EffortMark:
    """A made set of 1 to 3 reps with how it felt: RPE (0-10), seconds from floor to lockout; None = not noted."""

    day: date
    load_kg: float
    reps: int
    rpe: float | None
    seconds: float | None
    key: str


@dataclass(frozen=True, slots=True)
class BestSeries:
    """The running best of one style on one footing with its 80 % band, kg; long series are thinned to these days.

    `idle_days` since the last set that counts. `misses` are of the same lift, style and start on any bar, grip, belt.
    """

    style: str
    label: str
    days: tuple[date, ...]
    level_kg: tuple[float, ...]
    low_kg: tuple[float, ...]
    high_kg: tuple[float, ...]
    singles: tuple[RealSingle, ...]
    sessions: int
    sets: int
    unused: int
    set_keys: tuple[str, ...]
    movement: Movement | None
    idle_days: int
    misses: tuple[MissMark, ...]
    efforts: tuple[EffortMark, ...]


@dataclass(frozen=True, slots=True)
class Footing:
    """Everything but the style held equal: what series of different styles may stand in one figure."""

    key: str
    label: str
    lift: str
    plain: bool  # from the floor, without straps or suit: the usual way to pull
    series: tuple[BestSeries, ...]
    sessions: int


@dataclass(frozen=True, slots=True)
class MissPeriod:
    """Missed pulls of one period by position, in the order of the vocabulary, the last one "not noted"."""

    begins: date
    counts: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class MissPlace:
    """Missed pulls at one position: how many, on how many days, the last day, and the latest rows."""

    position: str
    count: int
    days: int
    last: date
    set_keys: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WorkPeriod:
    """Reps of pulls in one period by share of the running best (INTENSITY_BANDS), tonnes lifted, mean share."""

    begins: date
    reps: tuple[int, ...]
    tonnes: float
    mean_share: float | None


@dataclass(frozen=True, slots=True)
class TimedLoad:
    """Seconds from floor to lockout of single reps at one load (within the setting), by day."""

    style: str
    label: str
    bar: str
    straps: bool
    load_kg: float
    days: tuple[date, ...]
    seconds: tuple[float, ...]
    set_keys: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PullTime:
    """Median seconds of timed pulls of a style between two shares of the running best."""

    style: str
    low_share: float
    high_share: float
    seconds: float
    sets: int


@dataclass(frozen=True, slots=True)
class StartSeries:
    """Bests of one style by start height, lowest first."""

    style: str
    heights: tuple[StartHeight, ...]


@dataclass(frozen=True, slots=True)
class ProgressBoard:
    """Everything the progress page draws."""

    as_of: date
    pulls: int
    last: date | None  # day of the latest set of any lift
    footings: tuple[Footing, ...]
    misses_recent: tuple[MissPeriod, ...]
    misses_all: tuple[MissPeriod, ...]
    miss_places: tuple[MissPlace, ...]
    work_recent: tuple[WorkPeriod, ...]
    work_all: tuple[WorkPeriod, ...]
    long_period: str
    timed: tuple[TimedLoad, ...]
    starts: tuple[StartSeries, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class BackWeek:
    """Trunk moment times reps of one week by lift, N m."""

    begins: date
    by_lift: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class HeavyPull:
    """A day with a heavy pull of a style, and the days since the one before (None for the first)."""

    style: str
    day: date
    load_kg: float
    share: float
    gap_days: int | None
    key: str


@dataclass(frozen=True, slots=True)
class BackReview:
    """Load on the lower back with its unit: N m, and reps at the trunk's full capacity."""

    load: BackLoad
    capacity_nm: float
    capacity_words: str
    weeks: tuple[BackWeek, ...]
    heavy: tuple[HeavyPull, ...]
    approximations: tuple[str, ...]
    left_out: tuple[tuple[str, int], ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class HandCurve:
    """Height of the hands (m) at loads in the hands (kg) as one bar bends, up to the lifter's best."""

    bar: str
    load_kg: tuple[float, ...]
    height_m: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class BarGain:
    """What statics gives a flexible bar over a stiff one in one style: kg with 80 % range, and what was logged.

    `load_kg` is the best on the stiff bar it is reckoned at, `load_from` says where that comes from; the curves are
    the hands' heights and the load the weakest link allows (median), kg at m. `practice` is the trade's band, shares.
    """

    style: str
    load_kg: float
    load_from: str
    gain_kg: float
    low_kg: float
    high_kg: float
    floor_chance: float
    practice: tuple[float, float]
    curves: tuple[HandCurve, ...]
    allowed: HandCurve
    logged: Comparison | None


@dataclass(frozen=True, slots=True)
class GripBest:
    """Running best from the floor of one style, bar and grip, with or without straps: kg, 80 % range, sets."""

    style: str
    bar: str
    grip: str
    straps: bool
    now_kg: float
    low_kg: float
    high_kg: float
    sets: int
    set_keys: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BarGripBoard:
    """Everything the bar and grip page draws."""

    as_of: date
    pulls: int
    gains: tuple[BarGain, ...]
    bars: tuple[Comparison, ...]
    straps: tuple[Comparison, ...]
    times: tuple[PullTime, ...]
    bests: tuple[GripBest, ...]
    findings: tuple[Finding, ...]
    why_no_gain: str
