"""What the decision about a lifter's style is made from and what it returns: frozen records, SI, no sentences."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from enum import StrEnum

from analysis.core.records.messages import Message, Private
from athletes.schema.vocabulary import ADULT_AGE, Standing


@dataclass(frozen=True, slots=True)
class LinkPosterior:
    """What the log says of the links.

    legs_over_back: posterior mean of standardised ln(legs / back), + = strong legs for this back; reliability: share of
    its variance between lifters that the log explains (0-1). chances: style -> link -> chance that it limits.
    named: style -> link named by the log's rule, or "". misses and slow_lifts: counted, main style, 12 weeks.
    """

    legs_over_back: float
    reliability: float
    chances: Mapping[str, Mapping[str, float]] = field(default_factory=dict)
    named: Mapping[str, str] = field(default_factory=dict)
    misses: int = 0
    slow_lifts: int = 0
    lockout_round_misses: int = 0

    def leading(self, style: str) -> tuple[str, float]:
        """The link most likely to limit a style with its chance; ("", 0) when nothing is known."""
        found = self.chances.get(style, {})
        return max(found.items(), key=lambda item: item[1]) if found else ("", 0.0)


@dataclass(frozen=True, slots=True)
class BuildScore:
    """Posterior mean of the standardised log ratio of predicted bests, sumo over conventional, at average strength.

    At the lifter's own stance, toe-out and grip; already shrunk by its reliability (0-1). arms: arm length in SD.
    """

    score: float
    reliability: float
    arms: float | None = None


@dataclass(frozen=True, slots=True)
class StyleResult:
    """A measured ln(sumo / conventional), both trained, with its SD; source: "log" or "trial"."""

    difference: float
    sd: float
    source: str = "log"


@dataclass(frozen=True, slots=True)
class HealthFacts:
    """What only coach and athlete may see: pain, a back note, soreness of the back (0-10), a pinching stance."""

    pain: bool = False
    back_note: bool = False
    back_soreness: float | None = None
    pinch: bool = False


@dataclass(frozen=True, slots=True)
class TrialFacts:
    """A running or decided trial; gain, loss and chance of ln(new / old) are of its posterior (see trials.rule).

    success: "weight", "soreness" or "hard-sets". easier: the success other than weight is reached. hips: "", "closer"
    or "not-closer"; film: "", "good" or "not-yet". decided: "", "new", "old" or "both". pain and sore_start are health.
    """

    new_style: str
    old_style: str
    begins: date
    decision_day: date
    days: int = 0
    days_planned: int = 18
    heavy_days: int = 0
    gain: float = 0.0
    loss: float = 0.0
    chance_better: float = 0.5
    chance_not_worse: float = 0.5
    old_kg: float | None = None
    estimate_kg: tuple[float, float] | None = None
    success: str = "weight"
    easier: bool = False
    extended: bool = False
    old_kept: bool = True
    gain_threshold_met: bool = False
    hips: str = ""
    film: str = ""
    pain: bool = False
    sore_start: bool = False
    decided: str = ""


@dataclass(frozen=True, slots=True)
class BackShape:
    """Heavy sets by back: seen, seen round; the load (kg) from which it bends; best flat and best round (kg)."""

    seen: int = 0
    round: int = 0
    bends_from_kg: float | None = None
    flat_best_kg: float | None = None
    round_best_kg: float | None = None


@dataclass(frozen=True, slots=True)
class Stance:
    """One stance, heel middle to heel middle (m): demand over own strength (0-1), tried, pinches (health)."""

    width_m: float
    demand: float | None = None
    tried: bool = False
    pinches: bool = False


@dataclass(frozen=True, slots=True)
class BarAndGrip:
    """Grip in use, whether it holds (None: not known), gain of a flexible bar (kg, range), whether rules allow one."""

    grip: str = ""
    holds: bool | None = None
    bar_gain_kg: tuple[float, float, float] | None = None
    flexible_allowed: bool | None = None
    flexible_at_meet: bool = False


class ActionKind(StrEnum):
    """What may be done next."""

    TRAIN = "train"
    FILM = "film"
    TEST = "test"
    ASK = "ask"
    TRIAL = "trial"
    KEEP_GOING = "keep-going"


@dataclass(frozen=True, slots=True)
class Forecast:
    """Possible results of a test: loads (kg, ascending), how likely each is, and each link's chance after it."""

    loads_kg: tuple[float, ...]
    weights: tuple[float, ...]
    chances: Mapping[str, tuple[float, ...]]


@dataclass(frozen=True, slots=True)
class Candidate:
    """An action with what it is expected to bring: rise of the log score of the link, rise of a trial's value (share).

    heavy: needs a rested back and no meet near; blocked: a code why it may not be done now, or "".
    """

    kind: ActionKind
    code: str
    log_score: float = 0.0
    trial_value: float = 0.0
    heavy: bool = False
    blocked: str = ""
    forecast: Forecast | None = None


@dataclass(frozen=True, slots=True)
class DecisionFacts:
    """All that one answer is made from, as of a day."""

    day: date
    main_style: str = "conventional"
    other_style: str = "sumo"
    standing: str = "trained"
    age: float | None = None
    measured: bool = True
    logged_days: int = 20
    best_kg: float | None = None
    years: Mapping[str, float] = field(default_factory=dict)
    links: LinkPosterior | None = None
    build: BuildScore | None = None
    results: tuple[StyleResult, ...] = ()
    health: HealthFacts = HealthFacts()
    wishes_two_heavy_days: bool = False
    left_after_sessions: Mapping[str, int] = field(default_factory=dict)
    important_meet: date | None = None
    trial: TrialFacts | None = None
    back: BackShape = BackShape()
    stance_m: float | None = None
    stances: tuple[Stance, ...] = ()
    bar_and_grip: BarAndGrip = BarAndGrip()
    candidates: tuple[Candidate, ...] = ()
    hours_since_heavy: float | None = None
    holidays: frozenset[date] = frozenset()

    @property
    def results_of_both(self) -> bool:
        """Whether a logged or tried difference of the two styles exists."""
        return bool(self.results)

    @property
    def is_minor(self) -> bool:
        """Under 18 by standing or by age: either is enough to be careful."""
        return self.standing == Standing.UNDER_18 or (self.age is not None and self.age < ADULT_AGE)

    def without_health(self) -> DecisionFacts:
        """These facts as someone sees them who may not see health: the answer is then made without it."""
        trial = self.trial and replace(
            self.trial, pain=False, sore_start=False, easier=self.trial.easier and self.trial.success != "soreness"
        )
        stances = tuple(replace(s, pinches=False) for s in self.stances)
        return replace(self, health=HealthFacts(), trial=trial, stances=stances)


class Word(StrEnum):
    """The one scale of words for chances."""

    VERY_LIKELY = "very-likely"
    LIKELY = "likely"
    LEANING = "leaning"
    OPEN = "open"


@dataclass(frozen=True, slots=True)
class Lean:
    """Which style the evidence leans to, "" for none; chance of that style (or of `other` when open) and its span."""

    style: str
    word: Word
    chance: float
    low: float
    high: float
    value: float  # of a trial, share of the best
    mean: float
    sd: float


class State(StrEnum):
    """Every answer the page can give."""

    TRIAL_PAIN = "trial-pain"
    PAIN = "pain"
    UNDER_18 = "under-18"
    BEGINNER = "beginner"
    RETURNING = "returning"
    NOT_MEASURED = "not-measured"
    TRIAL_HIPS_NOT_CLOSER = "trial-hips-not-closer"
    TRIAL_FILM_AGAINST = "trial-film-against"
    TRIAL_DAYS_SHORT = "trial-days-short"
    TRIAL_ON_COURSE = "trial-on-course"
    DUE_ADOPT = "due-adopt"
    DUE_LEVEL = "due-level"
    DUE_FOUR_MORE = "due-four-more"
    DUE_BACK = "due-back"
    DECIDED_NEW = "decided-new"
    DECIDED_OLD = "decided-old"
    DECIDED_BOTH = "decided-both"
    MEET_AHEAD = "meet-ahead"
    STANCE_OUT = "stance-out"
    OFFERED_TRIAL = "offered-trial"
    VIEWS_DIFFER = "views-differ"
    START_FLATTER = "start-flatter"
    TRAIN_LINK = "train-link"
    KEEP = "keep"


HEALTH_STATES = frozenset((State.TRIAL_PAIN, State.PAIN, State.STANCE_OUT))


@dataclass(frozen=True, slots=True)
class Outcome:
    """One of the outcomes of a test, said before it: loads from low to high (kg, None: no end), its chance, the link.

    link is "" for "still open"; after is the chance of the link then.
    """

    low_kg: float | None
    high_kg: float | None
    chance: float
    link: str
    after: float


@dataclass(frozen=True, slots=True)
class NextAction:
    """The action that leads, its expected gain per cost, and what its result would say."""

    kind: ActionKind
    code: str
    gain_per_cost: float
    outcomes: tuple[Outcome, ...] = ()


@dataclass(frozen=True, slots=True)
class Line:
    """One closed line of the page: key, where it stands, why, what to do."""

    key: str
    state: Message
    ground: Message
    action: Message


@dataclass(frozen=True, slots=True)
class WeekAhead:
    """A week of training a link: the load (kg), and whether it is an easy week."""

    load_kg: float
    easy: bool


@dataclass(frozen=True, slots=True)
class Answer:
    """The one answer about style; every message carries its own privacy."""

    state: State
    heading: Message
    ground: tuple[Message, ...]
    action: Message
    second_action: Message | None
    lean: Lean | None
    reasons_for: tuple[Message, ...]
    reasons_against: tuple[Message, ...]
    differ: tuple[Message, ...]
    lines: tuple[Line, ...]
    next_action: NextAction
    cautions: tuple[Message, ...]
    context: tuple[Message, ...] = ()
    note: Message | None = None
    plan: tuple[Message, ...] = ()  # what an offered trial is worth and how the old style is kept
    years: tuple[Message, ...] = ()
    changes: tuple[Message, ...] = ()

    @property
    def private(self) -> frozenset[Private]:
        """Kinds a reader must be allowed to see to be shown this state at all."""
        return self.heading.needs
