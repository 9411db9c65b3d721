"""What log and calendar add to the one answer on the squad wall, and the half year as a few points a style."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta

from analysis.core.estimates.effort import rpe_creeps
from analysis.core.estimates.running_best import level_on
from analysis.core.records.lifts import SetRecord
from analysis.core.records.squad import WallSigns
from analysis.core.squad.review import AtHand, is_heavy, pain_and_soreness, stale

WINDOW = timedelta(weeks=12)  # as for the links: misses that still speak for a lifter
HALF_YEAR = timedelta(weeks=26)
POINTS = 13  # of a line over half a year, one a fortnight
MOST_REPS = 3  # tried, of a miss that is drawn: its load then lies near the line
GRIP = ("grip-opened",)


def wall_signs(hand: AtHand) -> WallSigns:
    """The signs as of the hand's day."""
    lifter, day, settings = hand.lifter, hand.as_of, hand.settings
    pulls = [s for s in lifter.sets if s.tags.lift == "deadlift" and s.day <= day]
    missed = [s for s in pulls if s.result == "missed" and s.day > day - WINDOW]
    heavy = [s.day for s in pulls if is_heavy(hand, s, settings["load.heavy_share"])]
    creep = next(iter(rpe_creeps(lifter.sets, day, settings)), None)
    return WallSigns(
        day=day,
        last_logged=max((s.day for s in lifter.sets), default=None),
        last_heavy=max(heavy, default=None),
        next_meet=lifter.next_meet,
        misses=len(missed),
        slips=sum(s.gave_way in GRIP for s in missed),
        last_miss=missed[-1].key if missed else "",
        heavy_miss=_heavy_miss(hand, missed),
        harder=(round(2.0 * (creep.now_rpe - creep.before_rpe)) / 2.0, creep.set_keys[-1]) if creep else None,
        stale_days=(day - hand.measured_on).days if hand.measured_on and stale(hand) else None,
        private=_private(hand),
    )


def _heavy_miss(hand: AtHand, missed: list[SetRecord]) -> tuple[float, date] | None:
    """Share of the running best and day of the heaviest miss of the last days; None without one at a known best."""
    since = hand.since(hand.settings["squad.new_days"])
    shares = [(s.load_kg / best, s.day) for s in missed if s.day >= since and (best := hand.best_of(s))]
    return max((one for one in shares if one[0] >= hand.settings["squad.heavy_miss"]), default=None)


def _private(hand: AtHand) -> str:
    """The newest day with a note of pain or soreness that the coach is to look at, as ISO text; "" for none."""
    if not pain_and_soreness(hand):
        return ""
    noted = [d.day for d in hand.lifter.days if d.pain_event or d.soreness is not None]
    return max(noted).isoformat() if noted else ""


def half_year(hand: AtHand) -> Mapping[str, tuple[float | None, ...]]:
    """Style -> level (kg) at 13 days over 26 weeks, of its kind with most days from the floor; untouched styles out."""
    first = hand.as_of - HALF_YEAR
    days = [first + i * HALF_YEAR / (POINTS - 1) for i in range(POINTS)]
    lines: dict[str, tuple[float | None, ...]] = {}
    for kind, best in hand.bests.items():
        style = kind.tags.style
        if not style or style in lines or kind.tags.start != "floor" or max(p.day for p in best.points) < first:
            continue
        lines[style] = tuple(level_on(best, day) for day in days)
    return lines


def drawn_misses(hand: AtHand) -> tuple[tuple[float, float], ...]:
    """Missed singles to triples of half a year as place on it (0-1) and load (kg), oldest first."""
    first = hand.as_of - HALF_YEAR
    return tuple(
        ((s.day - first) / HALF_YEAR, s.load_kg)
        for s in hand.lifter.sets
        if s.result == "missed" and s.tags.lift == "deadlift" and s.tags.style
        if first <= s.day <= hand.as_of and s.reps_tried <= MOST_REPS
    )
