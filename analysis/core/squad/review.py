"""What needs the coach's eye this week: one row per athlete, most urgent reason first."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from analysis.core.estimates.effort import rpe_creeps
from analysis.core.estimates.running_best import level_on, running_bests
from analysis.core.records.estimates import ComparableKind, RunningBest
from analysis.core.records.lifts import DayRecord, LifterRecord, SetRecord
from analysis.core.records.messages import HEALTH, Message, Quantity, Unit, Value
from analysis.core.records.squad import Reason, SquadRow, StyleNow
from analysis.core.records.terms import PLACE_WORDS, SEEN_WORDS, counted
from analysis.core.settings import DEFAULTS, Settings

FOUR_WEEKS = timedelta(days=28)
Bests = Mapping[ComparableKind, RunningBest]


@dataclass(frozen=True, slots=True)
class AtHand:
    """Everything one row is written from; days and bests are worked out once."""

    lifter: LifterRecord
    as_of: date
    settings: Settings
    bests: Bests
    decide_on: date | None
    measured_on: date | None

    def since(self, days: float) -> date:
        """The first day that still counts as the last `days` days."""
        return self.as_of - timedelta(days=int(days) - 1)

    def best_of(self, one: SetRecord) -> float | None:
        """The running best (kg) of the set's style on its day, the highest of comparable kinds; None if unknown."""
        levels = [
            level
            for kind, best in self.bests.items()
            if kind.tags.style == one.tags.style and (level := level_on(best, one.day)) is not None
        ]
        return max(levels, default=None)


def squad_row(
    lifter: LifterRecord,
    as_of: date,
    settings: Settings = DEFAULTS,
    decide_on: date | None = None,
    measured_on: date | None = None,
) -> SquadRow:
    """The squad row of one athlete as of a day; `decide_on` is an open trial's date, `measured_on` the last visit."""
    bests = running_bests(lifter.sets, as_of, settings)
    hand = AtHand(lifter, as_of, settings, bests, decide_on, measured_on)
    pulls = [s for s in lifter.sets if s.tags.lift == "deadlift"]
    heavy = [s for s in pulls if is_heavy(hand, s, settings["load.heavy_share"])]
    recent = [s for s in pulls if s.day > as_of - FOUR_WEEKS]
    last = max((s.day for s in lifter.sets), default=None)
    return SquadRow(
        as_of=as_of,
        last_logged=last,
        days_since=None if last is None else (as_of - last).days,
        last_heavy=max((s.day for s in heavy), default=None),
        heavy_pulls_28=len({s.day for s in heavy if s.day > as_of - FOUR_WEEKS}),
        next_meet=lifter.next_meet,
        styles=styles_now(hand, heavy),
        reasons=tuple(sorted(reasons(hand), key=lambda r: r.urgency)),
        miss_count_28=sum(s.result == "missed" for s in recent),
        set_count=len(lifter.sets),
    )


def is_heavy(hand: AtHand, one: SetRecord, share: float) -> bool:
    """Whether a pull was made or tried with at least `share` of its style's running best."""
    best = hand.best_of(one)
    return best is not None and one.result != "not-tried" and one.load_kg >= share * best


def styles_now(hand: AtHand, heavy: Iterable[SetRecord]) -> tuple[StyleNow, ...]:
    """One line per style: its kind with most days, now and four weeks ago."""
    lines: dict[str, StyleNow] = {}
    recent = [s for s in heavy if s.day > hand.as_of - FOUR_WEEKS]
    for kind, best in hand.bests.items():
        style = kind.tags.style
        if not style or style in lines or kind.tags.start != "floor":
            continue
        low, high = best.range_kg
        before = level_on(best, hand.as_of - FOUR_WEEKS)
        count = sum(s.tags.style == style for s in recent)
        lines[style] = StyleNow(style, best.label, best.now_kg, low, high, before, count)
    return tuple(lines.values())


def reasons(hand: AtHand) -> list[Reason]:
    """Every reason to look, in no order."""
    return [
        *heavy_misses(hand),
        *quiet(hand),
        *pain_and_soreness(hand),
        *harder_work(hand),
        *dates(hand),
        *stale(hand),
    ]


def heavy_misses(hand: AtHand) -> list[Reason]:
    """New misses at a heavy load, each with its share of the running best, where and what gave way."""
    since = hand.since(hand.settings["squad.new_days"])
    made = []
    for one in hand.lifter.sets:
        if one.day < since or one.tags.lift != "deadlift" or one.result not in ("missed", "no-lift"):
            continue
        best = hand.best_of(one)
        if best is None or one.load_kg >= hand.settings["squad.heavy_miss"] * best:
            made.append(Reason("heavy-miss", 1, miss_words(one, best), set_keys=(one.key,)))
    return made


def miss_words(one: SetRecord, best: float | None) -> str:
    """A miss in a sentence: day, share of the running best, where, what gave way or which rule."""
    share = "" if best is None else f" at {100 * one.load_kg / best:.0f} % of the running best"
    where = f", {PLACE_WORDS[one.miss_positions[0]]}" if one.miss_positions else ", where is not noted"
    what = "No lift (rule)" if one.result == "no-lift" else "Missed"
    why = one.rule_reason.replace("-", " ") or SEEN_WORDS.get(one.gave_way, "")
    return f"{what} on {one.day:%-d %b}{share}{where}{f' ({why})' if why else ''}."


def quiet(hand: AtHand) -> list[Reason]:
    """Nothing logged for a week, ten days, two weeks."""
    last = max((s.day for s in hand.lifter.sets), default=None)
    if last is None:
        return [Reason("never-logged", 4, "Nothing is logged yet.")]
    days = (hand.as_of - last).days
    if days < hand.settings["squad.quiet_days"]:
        return []
    urgency = 2 if days >= hand.settings["squad.silent_days"] else 3
    return [Reason("not-logged", urgency, f"Nothing logged for {counted(days, 'day')} (last {last:%-d %b}).")]


def pain_and_soreness(hand: AtHand) -> list[Reason]:
    """Pain noted or a set stopped for it, soreness from the threshold, soreness rising three notes running."""
    since = hand.since(hand.settings["squad.new_days"])
    new = [d for d in hand.lifter.days if d.day >= since]
    made = [Reason("pain", 1, Message("squad.pain", {"day": d.day}, private=HEALTH)) for d in new if d.pain_event]
    sore = [d for d in new if (d.soreness or 0) >= hand.settings["squad.sore"]]
    if sore:
        worst = max(sore, key=lambda d: d.soreness or 0)
        soreness = Quantity(float(worst.soreness or 0), Unit.SORENESS, private=HEALTH)
        values: dict[str, Value] = {"soreness": soreness, "day": worst.day, "site": worst.soreness_site}
        made.append(
            Reason("sore", 2, Message("squad.sore-at" if worst.soreness_site else "squad.sore", values, private=HEALTH))
        )
    return made + rising_soreness(hand.lifter.days, since)


def rising_soreness(days: Iterable[DayRecord], since: date) -> list[Reason]:
    """Soreness that rose over the last three notes, when the last of them is new."""
    noted = [d for d in days if d.soreness is not None][-3:]
    levels = [d.soreness or 0 for d in noted]
    if len(noted) < 3 or noted[-1].day < since or not levels[0] < levels[1] < levels[2]:
        return []
    steps = {
        name: Quantity(float(level), Unit.COUNT, private=HEALTH)
        for name, level in zip(("first", "second", "third"), levels, strict=True)
    }
    return [Reason("soreness-rising", 2, Message("squad.soreness-rising", steps, private=HEALTH))]


def harder_work(hand: AtHand) -> list[Reason]:
    """The same load and reps at a higher RPE than in the four weeks before."""
    return [
        Reason(
            "rpe-creep",
            3,
            f"Same load and reps felt harder: RPE {creep.before_rpe:.1f} then, {creep.now_rpe:.1f} now "
            f"({counted(len(creep.set_keys), 'set')}, 8 weeks).",
            set_keys=creep.set_keys,
        )
        for creep in rpe_creeps(hand.lifter.sets, hand.as_of, hand.settings)[:1]
    ]


def dates(hand: AtHand) -> list[Reason]:
    """A trial's decision that is due, and a meet that is near."""
    made = []
    if hand.decide_on is not None:
        left = (hand.decide_on - hand.as_of).days
        if left <= hand.settings["squad.trial_days"]:
            when = f"was due on {hand.decide_on:%-d %b}" if left < 0 else f"is due {days_ahead(left)}"
            made.append(Reason("trial-due", 2, f"The trial's decision {when}."))
    if hand.lifter.next_meet is not None:
        left = (hand.lifter.next_meet - hand.as_of).days
        if 0 <= left <= hand.settings["squad.meet_days"]:
            made.append(Reason("meet-near", 3, f"Meet {days_ahead(left)} ({hand.lifter.next_meet:%-d %b})."))
    return made


def days_ahead(days: int) -> str:
    """ "today", "in 1 day", "in 12 days"."""
    return "today" if days == 0 else f"in {counted(days, 'day')}"


def stale(hand: AtHand) -> list[Reason]:
    """Measurements that are missing or older than they should be."""
    if hand.measured_on is None:
        return [Reason("unmeasured", 5, "Not measured yet.")]
    minor = hand.lifter.is_minor
    months = hand.settings["squad.measure_months_minor" if minor else "squad.measure_months"]
    age = (hand.as_of - hand.measured_on).days
    if age <= months * 30.4375:
        return []
    return [Reason("measurements-stale", 4, f"Measured {age} days ago: stale after {months:g} months.")]
