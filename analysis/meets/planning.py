"""The plan of an entry's deadlifts: what the log says of the day's best, three attempts, and the cautions."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from math import floor

from analysis.core.estimates.history import gaps
from analysis.core.estimates.kept import LRUCache
from analysis.core.estimates.running_best import basis, running_bests
from analysis.core.meets import (
    Goal,
    MeetDay,
    Result,
    day_best,
    evaluate,
    opener_finding,
    plan_attempts,
    preparation_findings,
)
from analysis.core.meets.live import belief_before, call_for_number, next_call
from analysis.core.records.estimates import AttemptPlan, DayBest, Finding, RunningBest
from analysis.core.records.lifts import LifterRecord, SetRecord
from analysis.core.records.messages import Message, Quantity, Unit, load
from analysis.core.records.plain import CoreError
from analysis.core.settings import Settings
from analysis.meets.attempt_forms import DayForm
from analysis.meets.rules import after_squat_and_bench, rules_of, standing_rows
from analysis.meets.words import chance_words
from analysis.store.bridge import lifter_logs
from analysis.store.club_numbers import numbers_of
from analysis.store.profiles import today_in
from athletes.access.permissions import may
from athletes.access.visibility import is_minor
from athletes.models import MeetEntry, User
from athletes.models.choices import Lift
from athletes.models.choices import Result as Ended

POOLED = ("grip", "shape", "belt")  # a meet lifter's own grip, belt and shape: whichever they lift with
PLANS: LRUCache[tuple[int, int], tuple[object, tuple[AttemptPlan, ...]]] = LRUCache(
    400
)  # entries, at their results so far
LIGHT_FOR_A_BAR_KG = 180.0  # below this a flexible bar gives about nothing: common practice, no source
HEAVY_FOR_A_BAR_KG = 250.0  # above this it gives most: common practice, no source


@dataclass(frozen=True, slots=True)
class EntryPlan:
    """What the log says for one entry; `why_not` says why there is no estimate."""

    entry: MeetEntry
    settings: Settings
    best: RunningBest | None
    day: DayBest | None
    plans: tuple[AttemptPlan, ...]
    careful: tuple[str, ...]  # reasons for careful attempts: "under-18", "beginner", "returning", "pain"
    findings: tuple[Finding, ...]
    why_not: str

    @property
    def basis(self) -> str:
        """What the estimate rests on, in words."""
        return basis(self.best) if self.best else ""


def plans_for(entries: Iterable[MeetEntry], viewer: User) -> dict[int, EntryPlan]:
    """The plans of the club's lifters among some entries, by the entry's pk, from the log as it stood before the day.

    Of a lifter whose health the viewer may not see the plan is made without it, and its cautions say so for everyone.

    The logs are read together: once for all entries whose day lies ahead, once more for a meet that is today.
    """
    own = [entry for entry in entries if entry.athlete_id]
    numbers = numbers_of([entry.own_athlete for entry in own])
    by_day: dict[date, list[MeetEntry]] = {}
    for entry in own:
        by_day.setdefault(min(today_in(entry.meet.club), entry.meet.day - timedelta(days=1)), []).append(entry)
    found: dict[int, EntryPlan] = {}
    for as_of, group in by_day.items():
        lifters = lifter_logs([entry.own_athlete for entry in group], as_of)
        for entry in group:
            athlete = entry.own_athlete
            lifter = lifters[athlete.pk] if may(viewer, athlete, "health") else lifters[athlete.pk].without_health()
            found[entry.pk] = _plan(entry, lifter, as_of, numbers[athlete.pk])
    return found


def _plan(entry: MeetEntry, lifter: LifterRecord, as_of: date, numbers: Settings) -> EntryPlan:
    numbers = replace_step(numbers, rules_of(entry.meet).rules.step_kg)
    careful = careful_reasons(entry, lifter)
    sets = since_return(lifter, as_of, numbers) if lifter.standing == "returning" else lifter.sets
    best = best_for(sets, entry, as_of, numbers)
    if best is None:
        return EntryPlan(entry, numbers, None, None, (), careful, (), missing_words(entry, sets))
    known = meet_day_of(entry, sets)
    day = day_best(best, known, numbers)
    plans = (careful_plan(day, numbers),) if careful else plans_or_none(entry, day, None, (), numbers)
    findings = (*preparation_findings(sets, [best], known, numbers), *bar_words(entry, day))
    return EntryPlan(entry, numbers, best, day, plans, careful, findings, "")


def replace_step(numbers: Settings, step_kg: float) -> Settings:
    """The numbers in force with the meet's own step, where the setting allows it."""
    try:
        return numbers.with_values({"meet.step": step_kg})
    except CoreError:
        return numbers


def careful_reasons(entry: MeetEntry, lifter: LifterRecord) -> tuple[str, ...]:
    """Why no maximal attempt is suggested; empty for a trained adult without pain noted."""
    minor = is_minor(entry.own_athlete, entry.meet.day) or lifter.standing == "under-18"
    told = [("under-18", minor), ("pain", lifter.pain_noted)]
    told += [(word, lifter.standing == word) for word in ("beginner", "returning")]
    return tuple(word for word, holds in told if holds)


def since_return(lifter: LifterRecord, as_of: date, numbers: Settings) -> tuple[SetRecord, ...]:
    """Sets after the latest long pause: before it was another lifter."""
    pauses = gaps(lifter.sets, lifter.days, as_of, numbers)
    since = max((pause.ends for pause in pauses if pause.ends), default=date.min)
    return tuple(s for s in lifter.sets if s.day >= since)


def best_for(sets: tuple[SetRecord, ...], entry: MeetEntry, as_of: date, numbers: Settings) -> RunningBest | None:
    """The running best of the meet's sort of pull: the entry's style, from the floor, no straps, no suit.

    Pulls on the meet's bar where enough days are logged, else the sort with most days.
    """
    found = running_bests([s for s in sets if meet_pull(s, entry.style)], as_of, numbers, POOLED).values()
    enough = [b for b in found if b.day_count >= numbers["meet.points_least"]]
    same = [b for b in enough if b.kind.tags.bar == entry.meet.bar_kind]
    return max(same or enough or found, key=lambda b: b.day_count, default=None)


def meet_pull(one: SetRecord, style: str) -> bool:
    """Whether a set is the sort of pull a meet asks for, in that style ("" takes any noted style)."""
    tags = one.tags
    right = tags.lift == "deadlift" and tags.start == "floor" and tags.dead_stop and not tags.paused
    return right and not tags.straps and not tags.suit and (tags.style == style if style else bool(tags.style))


def meet_day_of(entry: MeetEntry, sets: tuple[SetRecord, ...]) -> MeetDay:
    """What is known of the day."""
    bar = entry.meet.bar_kind
    on_bar = {s.day for s in sets if s.tags.lift == "deadlift" and s.tags.bar == bar}
    return MeetDay(entry.meet.day, bar, after_squat_and_bench(entry.meet), entry.first_meet, len(on_bar))


def careful_plan(day: DayBest, numbers: Settings) -> AttemptPlan:
    """Three loads well inside the best, the last never above the low end of the estimate: no maximal attempt."""
    step = numbers["meet.step"]
    loads = [
        floor(min(day.median_kg * numbers[f"meet.careful_{name}"], day.low_kg) / step) * step
        for name in ("opener", "second", "third")
    ]
    for place in (1, 0):
        loads[place] = min(loads[place], loads[place + 1] - step)
    text = "Careful attempts: shares of the best well inside it (common practice, no source); no maximal attempt."
    plan = evaluate(day, [max(load, step) for load in loads], None, numbers)
    return replace(plan, name="careful", findings=(Finding("careful", text, "caution"), *day.reasons))


def plans_or_none(
    entry: MeetEntry, day: DayBest, goal: Goal | None, taken: Sequence[Result], numbers: Settings
) -> tuple[AttemptPlan, ...]:
    """The plans for a goal after some results, none when it cannot be planned for; kept for the same question."""
    asked, key = (day, goal, tuple(taken), numbers), (entry.pk, len(taken))
    kept = PLANS.get(key)
    if kept is not None and kept[0] == asked:
        return kept[1]
    try:
        plans = plan_attempts(day, goal, taken, numbers)
    except CoreError:
        plans = ()
    PLANS.keep(key, (asked, plans), 1)
    return plans


def bar_words(entry: MeetEntry, day: DayBest) -> tuple[Finding, ...]:
    """On a flexible bar: what it is likely to give at this lifter's loads."""
    if entry.meet.bar_kind != "flexible":
        return ()
    if day.median_kg < LIGHT_FOR_A_BAR_KG:
        text = Message("meet.flexible-light", {"light": load(LIGHT_FOR_A_BAR_KG)})
        return (Finding("flexible-light", text, "note"),)
    band = Quantity(LIGHT_FOR_A_BAR_KG, Unit.KG, LIGHT_FOR_A_BAR_KG, HEAVY_FOR_A_BAR_KG)
    return (Finding("flexible", Message("meet.flexible", {"band": band}), "note"),)


def missing_words(entry: MeetEntry, sets: tuple[SetRecord, ...]) -> str:
    """Why the log gives no estimate, and what to log."""
    pulls = [s for s in sets if s.tags.lift == "deadlift"]
    if not pulls:
        return "No deadlift is logged before the meet. A triple at RPE 8 from the floor would be a start."
    if entry.style and all(s.tags.style != entry.style for s in pulls):
        return f"No pull in the entered style ({entry.get_style_display()}) is logged before the meet."
    return "No pull from the floor without straps, with its effort noted, is logged: log one as it will be lifted."


def own_plan(plan: EntryPlan, loads: list[float]) -> AttemptPlan | None:
    """The coach's own three loads with their chances; None when no estimate or an impossible order."""
    if plan.day is None or not loads:
        return None
    try:
        return evaluate(plan.day, loads, None, plan.settings)
    except CoreError:
        return None


def replanned(plan: EntryPlan, taken: list[Result], goal: Goal | None = None) -> tuple[AttemptPlan, ...]:
    """The attempts left after results; none when nothing is left, no estimate, or only careful loads are right."""
    if plan.day is None or plan.careful or len(taken) >= 3:
        return ()
    return plans_or_none(plan.entry, plan.day, goal, taken, plan.settings)


def opener_words(opener_kg: float, plan: EntryPlan) -> Finding | None:
    """The warning when the opener lies near the goal that was typed."""
    goal = plan.entry.goal_kg
    return opener_finding(opener_kg, goal, plan.settings) if goal else None


# Rules of the trade that a plan is held against; common practice, no source.
TRADE = (
    "Nine of ten openers are made: one that could be tripled on a bad day.",
    "Second 3 to 6 % over the opener, third at 100 to 103 % of the best.",
    "A miss of strength is repeated or left; a miss of a rule may go up.",
    "Last warm-up about 90 to 93 % of the opener, 8 to 12 minutes before it.",
)
BASIS = {
    "log": "From the log alone; the opener’s chance comes after the last warm-ups.",
    "warm-ups": "Read from the log and today’s warm-ups.",
    "results": "Read from the log and what was lifted today.",
}
THIRD = {"": "", "day-reads-lower": "Under the usual 100 to 103 %: the day reads lower than the log."}


@dataclass(frozen=True, slots=True)
class LiveDay:
    """The next attempt as the day reads: load, chance in words ("" before the warm-ups), what it rests on and why.

    `needed` are the loads that give the best chance of a needed number, with that chance in words.
    """

    attempt: int
    load_kg: float
    words: str
    basis: str
    reason: str
    needed_kg: float | None
    needed: tuple[float, ...]
    needed_words: str


def live_day(entry: MeetEntry, plan: EntryPlan | None, form: DayForm) -> LiveDay | None:
    """The call of the day; None without an estimate, for careful attempts, after three, or once one was not tried."""
    if plan is None or plan.day is None or plan.careful or (form.is_bound and not form.is_valid()):
        return None
    done = [row for row in standing_rows(entry.attempts.all(), Lift.DEADLIFT) if row.result]
    if any(row.result in (Ended.NOT_TRIED, Ended.STOPPED_PAIN) for row in done):
        return None
    taken = tuple(Result(row.load_kg, row.result == Ended.MADE) for row in done)
    warm_ups = form.cleaned_data["warm_ups"] if form.is_bound else []
    before = belief_before(plan.day, plan.settings)
    call = next_call(before, warm_ups, taken, plan.settings)
    if call is None:
        return None
    needed = form.cleaned_data["needed"] if form.is_bound else None
    loads, chance = call_for_number(before, warm_ups, taken, needed, plan.settings) if needed else ((), 0.0)
    return LiveDay(
        attempt=call.attempt,
        load_kg=call.load_kg,
        words="" if call.chance is None else chance_words(call.chance),
        basis=BASIS[call.basis],
        reason=THIRD[call.third_reason],
        needed_kg=needed,
        needed=loads,
        needed_words=chance_words(chance) if needed else "",
    )
