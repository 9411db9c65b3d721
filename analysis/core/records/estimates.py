"""What the statistics of the log return: frozen, kg and days, every estimate with its range and its rows."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from analysis.core.records.lifts import PullTags
from analysis.core.records.messages import Words


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing the log says: a stable code, words or a message, its rows; weight: note, caution or stop."""

    code: str
    text: Words
    weight: str = "note"
    numbers: tuple[tuple[str, float], ...] = ()
    set_keys: tuple[str, ...] = ()

    def number(self, name: str) -> float:
        """The number called `name`; KeyError when the finding carries none of that name."""
        return dict(self.numbers)[name]


@dataclass(frozen=True, slots=True)
class ComparableKind:
    """What two sets share to be comparable; tags named in `pooled` were set aside on purpose."""

    tags: PullTags
    pooled: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SetEstimate:
    """The best that one set points to, kg; when unused, low = high = 0 and `reason` says why."""

    key: str
    day: date
    estimate_kg: float
    low_kg: float
    high_kg: float
    sd_log: float
    reps_low: float  # reps to failure, as a range
    reps_high: float
    is_single: bool
    used: bool
    reason: str


@dataclass(frozen=True, slots=True)
class RealSingle:
    """A single that was made with nothing left, or in a test."""

    key: str
    day: date
    load_kg: float


@dataclass(frozen=True, slots=True)
class RunningBest:
    """Filtered level of one comparable kind with its 80 % band, kg, over `days`; the last is `as_of`."""

    kind: ComparableKind
    label: str
    as_of: date
    days: tuple[date, ...]
    level_kg: tuple[float, ...]
    low_kg: tuple[float, ...]
    high_kg: tuple[float, ...]
    sd_log: tuple[float, ...]
    points: tuple[SetEstimate, ...]
    unused: tuple[SetEstimate, ...]
    singles: tuple[RealSingle, ...]
    drift_4_weeks: float

    @property
    def now_kg(self) -> float:
        """The level on the as-of date, kg."""
        return self.level_kg[-1]

    @property
    def range_kg(self) -> tuple[float, float]:
        """The 80 % band on the as-of date, kg."""
        return self.low_kg[-1], self.high_kg[-1]

    @property
    def best_single(self) -> RealSingle | None:
        """The heaviest real single, or None."""
        return max(self.singles, key=lambda s: s.load_kg, default=None)

    @property
    def day_count(self) -> int:
        """How many days the level rests on; the as-of date is one of them only when it has a usable set."""
        return len(self.days) - (self.points[-1].day != self.as_of)


@dataclass(frozen=True, slots=True)
class TrialPlan:
    """What was agreed before the first session; success: "weight" or "tolerance"."""

    key: str
    old_style: str  # "" when the lifter has no trained style
    new_style: str
    begins: date
    weeks: int
    sessions_a_week: float
    decision_day: date
    success: str = "weight"
    important_dates: tuple[date, ...] = ()


@dataclass(frozen=True, slots=True)
class HipDistances:
    """Horizontal hip-to-bar distance at lift-off from marked pictures, m, per style."""

    old_m: tuple[float, ...] = ()
    new_m: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class TrialPoint:
    """One session that counted: weeks since the start, exposures before it, the day's estimated best, kg."""

    day: date
    week: float
    exposures: float
    estimate_kg: float
    sd_log: float
    set_keys: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TrialHeading:
    """Where the new style ends against the old one, log units and chances; range holds 80 %."""

    difference: float
    difference_sd: float
    low: float
    high: float
    chance_better: float
    chance_equal: float
    chance_worse: float
    tau: float
    dip: float
    dip_left: float
    old_kg: float
    heading_kg: float
    heading_low_kg: float
    heading_high_kg: float
    now_kg: float


@dataclass(frozen=True, slots=True)
class TrialVerdict:
    """Adopt, extend, drop or too early, with the date it holds for and the findings it rests on, in order."""

    word: str
    as_of: date
    next_look: date
    weeks_done: float
    sessions: int
    exposures: float
    planned_sessions: float
    attendance: float
    comparable: bool
    heading: TrialHeading | None
    points: tuple[TrialPoint, ...]
    reasons: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class StyleSpacing:
    """Days since the last heavy pull of a style, against its window; place: sooner, inside, longer, none."""

    style: str
    last_day: date | None
    last_key: str
    days_since: int | None
    window_days: tuple[float, float]
    place: str
    gaps_days: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class BackLoad:
    """Trunk moment times reps, N m, and the same in reps at full trunk capacity when that is known."""

    as_of: date
    since_heavy_nm: float
    last_28_nm: float
    before_28_nm: float
    capacity_reps_28: float | None
    by_lift_28_nm: tuple[tuple[str, float], ...]
    weeks: tuple[tuple[date, float], ...]
    spacing: tuple[StyleSpacing, ...]
    sets_counted: int
    sets_without_moment: int
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two sorts of pull that differ in one tag: levels and difference with 80 % range, kg, and sets."""

    style: str
    bar: str
    first: str
    second: str
    first_kg: float
    second_kg: float
    difference_kg: float
    low_kg: float
    high_kg: float
    gain: float
    chance_over_limit: float
    first_sets: int
    second_sets: int
    set_keys: tuple[str, ...] = ()
    start: str = ""  # in words: floor, or the block or deficit


@dataclass(frozen=True, slots=True)
class StartHeight:
    """Best at one start height, kg; height in m above (+) or below (-) the floor start."""

    height_m: float
    level_kg: float
    low_kg: float
    high_kg: float
    sets: int
    set_keys: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class DayBest:
    """Predictive distribution of the day's best: log-normal, kg; when `thin`, use common ratios."""

    median_kg: float
    sd_log: float
    low_kg: float
    high_kg: float
    thin: bool
    reasons: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Branch:
    """One attempt: load, kg, its chance given the results so far, and what follows a make or a miss."""

    load_kg: float
    chance: float
    if_made: Branch | None = None
    if_missed: Branch | None = None


@dataclass(frozen=True, slots=True)
class AttemptPlan:
    """A plan of the attempts left; `value`: expected best or total, kg, or chance of the needed number."""

    name: str
    goal: str
    root: Branch
    value: float
    expected_best_kg: float
    chance_of_any: float
    findings: tuple[Finding, ...] = ()

    @property
    def loads_if_made(self) -> tuple[float, ...]:
        """The attempts when every one is made, kg."""
        loads: list[float] = []
        branch: Branch | None = self.root
        while branch is not None:
            loads.append(branch.load_kg)
            branch = branch.if_made
        return tuple(loads)

    @property
    def chances_if_made(self) -> tuple[float, ...]:
        """The chance of each of those attempts given that the ones before were made."""
        chances: list[float] = []
        branch: Branch | None = self.root
        while branch is not None:
            chances.append(branch.chance)
            branch = branch.if_made
        return tuple(chances)


@dataclass(frozen=True, slots=True)
class WarmUp:
    """One step of the ladder: load, kg, reps, share of the opener, minutes before the opener."""

    load_kg: float
    reps: int
    share: float
    minutes_before: float
