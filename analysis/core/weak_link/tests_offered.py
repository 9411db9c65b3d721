"""The next best test in words and kg, and when none is offered; always sub-maximal, always the coach's choice."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

import numpy as np
import numpy.typing as npt

from analysis.core.estimates.misses import is_hard
from analysis.core.records.demands import STRENGTHS
from analysis.core.records.lifts import LifterRecord
from analysis.core.records.messages import HEALTH, Message, Verbatim, Words, kg
from analysis.core.records.terms import written_day
from analysis.core.records.weak_link import TestOffer
from analysis.core.settings import Settings
from analysis.core.weak_link.estimate import Estimate
from analysis.core.weak_link.kinds import PreparedLog
from analysis.core.weak_link.next_test import TestWorth, worth_of_tests
from analysis.core.weak_link.posterior import told_chances
from analysis.core.weak_link.words import LINK_WORDS, TEST_WORDS, tenths

FloatArray = npt.NDArray[np.float64]
REPS, RPE = 3, 8.0
TRIPLE_SHARE = 0.86  # of the best: three reps with two in reserve (mean of Epley 1985 and Brzycki 1993 at 5 reps)
TEST_SD = 0.05  # log; how exactly such a triple tells the best
PAIN_DAYS = 28


def offered_tests(found: Estimate, not_before: date, settings: Settings) -> tuple[TestOffer, ...]:
    """All tests this body can take, most telling first."""
    tests = [(place, TEST_SD) for place in found.tests.values()]
    names = {place: name for name, place in found.tests.items()}
    worth = worth_of_tests(found.problem, found.posterior, found.even, 0, found.main, tests)
    return tuple(_offer(names[w.kind], w, found, not_before, settings) for w in worth)


def without_deficit(tests: Sequence[TestOffer]) -> tuple[TestOffer, ...]:
    """The tests left for a lifter whose back has been hurt before."""
    return tuple(t for t in tests if t.key != "deficit")


def _offer(name: str, w: TestWorth, found: Estimate, not_before: date, settings: Settings) -> TestOffer:
    share = min(TRIPLE_SHARE, settings["weak.test_share"])
    bar = "flexible" if "|flexible|" not in found.table.kinds[found.main].key else "stiff"
    return TestOffer(
        key=name,
        text=TEST_WORDS[name].format(block=found.block_m * 100, bar=bar),
        low_kg=share * w.low_kg * 0.97,
        high_kg=share * w.middle_kg,
        reps=REPS,
        rpe=RPE,
        information_bits=w.bits,
        if_high=_would_say(w.high_kg, w.chances_high),
        if_low=_would_say(w.low_kg, w.chances_low),
        not_before=not_before,
    )


def _would_say(best_kg: float, chances: FloatArray) -> Message:
    told = told_chances(chances)
    top = int(np.argmax(told))
    link, chance = LINK_WORDS[STRENGTHS[top]], tenths(float(told[top]))
    return Message("weak.pointing-to", {"best": kg(best_kg), "link": Verbatim(link), "chance": Verbatim(chance)})


def no_test_reason(lifter: LifterRecord, as_of: date, settings: Settings) -> Words:
    """Why no test is offered at all, or ""."""
    if lifter.is_minor:
        return "Under 18: no straining test is proposed."
    if lifter.standing == "beginner":
        return "A beginner needs no test: practice comes first."
    if lifter.standing == "returning":
        return "Returning after a break: the new baseline and clearance come first."
    recent = [d.day for d in lifter.days if d.pain_event and 0 <= (as_of - d.day).days <= PAIN_DAYS]
    recent += [s.day for s in lifter.sets if s.result == "stopped-pain" and 0 <= (as_of - s.day).days <= PAIN_DAYS]
    if lifter.pain_noted or recent:
        return Message("weak.pain-no-test", private=HEALTH)
    if lifter.next_meet is not None and 0 <= (lifter.next_meet - as_of).days <= settings["weak.test_meet_days"]:
        return f"A meet on {written_day(lifter.next_meet)} is too close for a test."
    return ""


def earliest_day(log: PreparedLog, lifter: LifterRecord, as_of: date, settings: Settings) -> date:
    """The first day that is far enough from the last heavy pull."""
    rest = timedelta(days=-(-settings["miss.fatigue_hours"] // 24))
    pulls = [s for s in lifter.sets if as_of - rest < s.day <= as_of and s.tags.lift == "deadlift"]
    hard = [s.day for s in pulls if is_hard(s, log.levels.get(s.key), settings)]
    return max([as_of, *(day + rest for day in hard)])


def telling(tests: Sequence[TestOffer]) -> TestOffer | None:
    """The most telling test, if any tells anything."""
    return tests[0] if tests and tests[0].information_bits > 0.005 else None
