"""What the weak-point estimate returns: chances and ranges with their reasons, frozen, kg and m."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from analysis.core.records.estimates import Finding, RunningBest
from analysis.core.records.messages import Words


@dataclass(frozen=True, slots=True)
class LinkChance:
    """Chance (0-1) that one of hips, legs, back, grip limits, and the same in words."""

    link: str
    chance: float
    words: str


@dataclass(frozen=True, slots=True)
class LinkGain:
    """kg gained when this strength grows by 5 %: median and 80 % range."""

    link: str
    kg: float
    low_kg: float
    high_kg: float


@dataclass(frozen=True, slots=True)
class UtilisationCurve:
    """At the predicted best, share of its limit that each strength is at (1 = all of it), over bar heights.

    height_m is the hands above the floor; share is 0 at the floor start and 1 at lockout.
    """

    height_m: tuple[float, ...]
    share: tuple[float, ...]
    hips: tuple[float, ...]
    legs: tuple[float, ...]
    back: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class LinkDemand:
    """One link under one load: share of its limit at its hardest height (1 = all of it), with the central 80 %.

    `position` is the band of that height, `height_m` the hands above the floor there.
    """

    link: str
    share: float
    low: float
    high: float
    position: str
    height_m: float


@dataclass(frozen=True, slots=True)
class StyleDemand:
    """Hips, legs and back of one style under the load that all styles are compared at."""

    style: str
    links: tuple[LinkDemand, ...]


@dataclass(frozen=True, slots=True)
class MissMark:
    """A miss on the picture: share of the pull (0 floor, 1 lockout) at the middle of its noted band."""

    share: float
    position: str
    load_kg: float
    day: date
    set_key: str
    counted: bool


@dataclass(frozen=True, slots=True)
class StyleReading:
    """One style: who limits it, how heavy, where it sticks; `limiter` is "" unless the chances are clearly apart."""

    style: str
    label: str
    rests_on_sets: int
    chances: tuple[LinkChance, ...]
    clear: bool
    limiter: str
    best_kg: float
    low_kg: float
    high_kg: float
    sticking_height_m: float
    sticking_share: float
    sticking_position: str
    gains: tuple[LinkGain, ...]
    curve: UtilisationCurve
    miss_marks: tuple[MissMark, ...]

    def chance(self, link: str) -> float:
        """The chance that `link` limits."""
        return next(c.chance for c in self.chances if c.link == link)


@dataclass(frozen=True, slots=True)
class SetInfluence:
    """What one piece of evidence did: the leading link's chance with it and without it."""

    set_keys: tuple[str, ...]
    label: Words
    link: str
    chance_with: float
    chance_without: float

    @property
    def shift(self) -> float:
        """How much the evidence raised (+) or lowered (-) the chance of the leading link."""
        return self.chance_with - self.chance_without


@dataclass(frozen=True, slots=True)
class Excluded:
    """A set left out of the estimate of a muscle's part, with a stable code and the reason in words."""

    set_key: str
    day: date
    load_kg: float
    code: str
    reason: Words


@dataclass(frozen=True, slots=True)
class WeighedMiss:
    """A miss that is used: what its note is worth beside a fresh one (0-1), and why it is worth less or read otherwise.

    Reasons are codes with a number: "tired-squats", "tired-pulls", "sore" (share of the tiredness left), "over" (load
    over the level), "new-bar" (sessions on it before).
    """

    set_key: str
    day: date
    load_kg: float
    weight: float
    reasons: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class MissRow:
    """Misses of one style at one position: how many count, how many were left out, loads as shares of the best."""

    style: str
    position: str
    counted: int
    left_out: int
    bars: tuple[str, ...]
    low_share: float | None
    high_share: float | None
    set_keys: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TestOffer:
    """A sub-maximal test offered to the coach: triple at RPE 8 or less, loads in kg, what each result would say."""

    key: str
    text: str
    low_kg: float
    high_kg: float
    reps: int
    rpe: float
    information_bits: float
    if_high: Words
    if_low: Words
    not_before: date


@dataclass(frozen=True, slots=True)
class TrainingOption:
    """What the trade usually trains for a limiter; common practice, no source."""

    link: str
    text: str
    mark: str = "common practice, no source"


@dataclass(frozen=True, slots=True)
class StrengthRange:
    """One strength against an untrained reference of this size: median and 80 % range."""

    link: str
    middle: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class EvidenceCounts:
    """What the estimate rests on."""

    misses: int
    misses_left_out: int
    heavy_made: int
    sets: int
    kinds: int


@dataclass(frozen=True, slots=True)
class WeakLinkReport:
    """Everything one page says about one athlete's weak link.

    status: "named", "not-enough", "not-for-beginners", "new-baseline" or "nothing-logged".
    """

    lifter_key: str
    as_of: date
    status: str
    headline: Words
    why_not: tuple[Words, ...]
    main_style: str
    styles: tuple[StyleReading, ...]
    counts: EvidenceCounts
    bests: tuple[RunningBest, ...]
    strengths: tuple[StrengthRange, ...]
    influences: tuple[SetInfluence, ...]
    excluded: tuple[Excluded, ...]
    misses_by_position: tuple[MissRow, ...]
    classical: tuple[Finding, ...]
    findings: tuple[Finding, ...]
    next_test: TestOffer | None
    no_test_reason: Words
    other_tests: tuple[TestOffer, ...]
    would_change: tuple[Words, ...]
    training: tuple[TrainingOption, ...]
    cautions: tuple[str, ...]
    honesty: str
    shows_style_ratio: bool
    legs_over_back: float = 0.0  # posterior mean of standardised ln(legs / back), + = strong legs for this back
    legs_reliability: float = 0.0  # share of its variance between lifters that the log explains, 0-1
    demand_kg: float = 0.0  # the load `demands` are worked out at, 0 where there are none
    demands: tuple[StyleDemand, ...] = ()
    statement: Words = ""  # model and coaches' reading in one: agree, differ because of one piece, or open
    weighed: tuple[WeighedMiss, ...] = ()

    def style(self, name: str) -> StyleReading:
        """The reading of one style; KeyError when there is none."""
        for reading in self.styles:
            if reading.style == name:
                return reading
        raise KeyError(name)

    def finding(self, code: str) -> Finding | None:
        """The first finding with this code, or None."""
        return next((f for f in (*self.findings, *self.classical) if f.code == code), None)


@dataclass(frozen=True, slots=True)
class TestDaySet:
    """One line of the sheet: style, share of that style's running best, reps, minutes of rest after it."""

    __test__ = False
    style: str
    share: float
    reps: int
    rest_minutes: int
    is_top: bool
    load_kg: float | None


@dataclass(frozen=True, slots=True)
class TestDaySheet:
    """The whole sheet, with words for the lifter and the rules that end the day."""

    __test__ = False
    order: tuple[str, ...]
    sets: tuple[TestDaySet, ...]
    words: tuple[str, ...]
    rules: tuple[str, ...]
