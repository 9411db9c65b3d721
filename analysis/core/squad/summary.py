"""An athlete's own page: how the bests stand, what is new, how far to the next step; context, not verdicts."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta

from analysis.core.estimates.history import floor_deadlifts, heaviest_lifts
from analysis.core.estimates.running_best import running_bests
from analysis.core.records.estimates import RunningBest
from analysis.core.records.lifts import LifterRecord, SetRecord
from analysis.core.records.summary import AthleteSummary, BestLine, RepBest
from analysis.core.settings import DEFAULTS, Settings

FOUR_WEEKS = timedelta(days=28)
MOST_REPS = 8


def athlete_summary(lifter: LifterRecord, as_of: date, settings: Settings = DEFAULTS) -> AthleteSummary:
    """Everything the own page shows as of a day; thin logs give empty parts, never an error."""
    sets = tuple(s for s in lifter.sets if s.day <= as_of)
    bests = running_bests(sets, as_of, settings)
    pulls = [s for s in sets if s.tags.lift == "deadlift" and s.day > as_of - FOUR_WEEKS]
    tops = heaviest_lifts(sets)
    lines = tuple(best_line(best) for best in bests.values())
    records = rep_bests(sets, as_of)
    return AthleteSummary(
        as_of=as_of,
        bests=lines,
        rep_bests=records,
        heaviest_kg=tops[0].load_kg if tops else None,
        heaviest_on=tops[0].day if tops else None,
        heaviest_key=tops[0].key if tops else "",
        made_28=sum(s.result == "made" for s in pulls),
        missed_28=sum(s.result == "missed" for s in pulls),
        sets_unused=sum(len(best.unused) for best in bests.values()),
        next_meet=lifter.next_meet,
        days_to_meet=None if lifter.next_meet is None else (lifter.next_meet - as_of).days,
        words=tuple(words(lifter, bests.values(), records)),
    )


def best_line(best: RunningBest) -> BestLine:
    """One comparable kind as a line."""
    single, (low, high) = best.best_single, best.range_kg
    return BestLine(
        style=best.kind.tags.style,
        label=best.label,
        now_kg=best.now_kg,
        low_kg=low,
        high_kg=high,
        single_kg=single.load_kg if single else None,
        single_on=single.day if single else None,
        single_key=single.key if single else "",
        last_on=max(p.day for p in best.points),
        days=best.day_count,
    )


def rep_bests(sets: Iterable[SetRecord], as_of: date) -> tuple[RepBest, ...]:
    """For each style and 1 to 8 reps the heaviest floor pull made for at least that many reps.

    A rep count whose heaviest load is that of a higher count is left out: the higher count already says it.
    """
    rows = floor_deadlifts(sets)
    found = []
    for style in sorted({s.tags.style for s in rows if s.tags.style}):
        said = 0.0
        for reps in range(MOST_REPS, 0, -1):
            able = [s for s in rows if s.tags.style == style and s.reps_made >= reps]
            top = max(able, key=lambda s: (s.load_kg, -s.day.toordinal()), default=None)
            if top is not None and top.load_kg > said:
                said = top.load_kg
                found.append(RepBest(style, reps, top.load_kg, top.day, top.key, top.day > as_of - FOUR_WEEKS))
    return tuple(sorted(found, key=lambda r: (r.style, r.reps)))


def words(lifter: LifterRecord, bests: Iterable[RunningBest], records: Sequence[RepBest]) -> list[str]:
    """Sentences of context for the lifter; nothing where there is nothing to say."""
    said = []
    fresh = [r for r in records if r.fresh]
    if fresh:
        said.append(f"New in the last four weeks: {len(fresh)} rep best{'s' if len(fresh) > 1 else ''}.")
    thin = [best for best in bests if best.day_count < 3]
    if thin:
        said.append("A range from fewer than three days is wide on purpose; it narrows as days are logged.")
    if lifter.standing == "beginner":
        said.append("While a lift is new most gains are skill; compare with your own last month, not with others.")
    if lifter.standing == "returning":
        said.append("You are coming back: a new baseline counts from here, and old bests are history, not a target.")
    return said
