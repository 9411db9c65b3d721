"""The progress board of one lifter: bests by footing, misses, work, pull time, start heights, what stands out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, timedelta

from analysis.core.estimates.effort import big_jumps, rpe_creeps, slower_pulls
from analysis.core.estimates.grip_and_bar import order_findings
from analysis.core.estimates.history import sudden_falls
from analysis.core.records.estimates import Finding, RunningBest, StartHeight
from analysis.core.records.lifts import LifterRecord, SetRecord
from analysis.core.records.messages import Message, Value, as_message
from analysis.core.records.terms import STYLES
from analysis.core.records.training import ProgressBoard, StartSeries
from analysis.core.settings import DEFAULTS, Settings
from analysis.core.training.back_load import creep_message
from analysis.core.training.footings import footings_of
from analysis.core.training.levels import Bests, bests_of, shares_by_key
from analysis.core.training.misses import miss_periods, miss_places
from analysis.core.training.timed import timed_loads
from analysis.core.training.work import LINKED_ROWS, latest, step_for
from analysis.core.training.work_dashboards import work_periods

RECENT_WEEKS = 52
TWELVE_WEEKS = timedelta(weeks=12)


def progress_board(lifter: LifterRecord, as_of: date, settings: Settings = DEFAULTS) -> ProgressBoard:
    """Everything the progress page draws of one lifter as of a day; an empty log gives an empty board."""
    sets = tuple(s for s in lifter.sets if s.day <= as_of)
    pulls = [s for s in sets if s.tags.lift == "deadlift"]
    first = min((s.day for s in pulls), default=as_of)
    step = step_for(first, as_of)
    bests = bests_of(sets, as_of, settings)
    shares = shares_by_key(sets, bests, as_of, settings)
    year = max(first, as_of - timedelta(weeks=RECENT_WEEKS - 1))
    starts = start_series(bests)
    common = [
        *effort_findings(sets, as_of, settings),
        *(f for s in starts for f in order_findings(s.heights, settings)),
    ]
    return ProgressBoard(
        as_of=as_of,
        pulls=len(pulls),
        last=max((s.day for s in sets), default=None),
        footings=footings_of(bests, sets),
        misses_recent=miss_periods(pulls, year, as_of, "month"),
        misses_all=miss_periods(pulls, first, as_of, step),
        miss_places=miss_places(pulls),
        work_recent=work_periods(pulls, shares, year, as_of, "week"),
        work_all=work_periods(pulls, shares, first, as_of, step),
        long_period=step,
        timed=timed_loads(pulls, settings),
        starts=starts,
        findings=linked((*sudden_falls(sets, lifter.days, as_of, settings), *common)),
    )


def start_series(bests: Bests) -> tuple[StartSeries, ...]:
    """Bests by start height of every style that was pulled from at least two; of each height the busiest kind."""
    found = []
    for style in STYLES:
        heights: dict[float, RunningBest] = {}
        for kind, best in bests.items():
            if kind.tags.lift == "deadlift" and kind.tags.style == style:
                heights.setdefault(kind.tags.start_offset_m, best)
        found.append(StartSeries(style, tuple(_start(height, best) for height, best in sorted(heights.items()))))
    return tuple(one for one in found if len(one.heights) > 1)


def _start(height: float, best: RunningBest) -> StartHeight:
    keys = latest([p.key for p in best.points])
    return StartHeight(height, best.now_kg, *best.range_kg, len(best.points), keys)


def effort_findings(sets: Sequence[SetRecord], as_of: date, settings: Settings) -> list[Finding]:
    """The same load costing more, and large jumps before a miss in the last twelve weeks."""
    creeps = [
        Finding(
            "rpe-creep",
            creep_message(c),
            "caution",
            (("load_kg", c.load_kg),),
            c.set_keys,
        )
        for c in rpe_creeps(sets, as_of, settings)
    ]
    recent = [s for s in sets if s.day > as_of - TWELVE_WEEKS and s.tags.lift == "deadlift"]
    return [*creeps, *slower_pulls(sets, as_of, settings), *big_jumps(recent, settings)]


def linked(findings: Iterable[Finding], most: int = LINKED_ROWS) -> tuple[Finding, ...]:
    """Findings whose link opens at most `most` rows, the latest; the text says so where rows were left off."""
    return tuple(_linked(f, most) for f in findings)


def _linked(finding: Finding, most: int) -> Finding:
    keys = finding.set_keys
    if len(keys) <= most:
        return finding
    values: dict[str, Value] = {"finding": as_message(finding.text), "most": most, "count": len(keys)}
    text = Message("finding.rows-linked", values)
    return replace(finding, text=text, set_keys=latest(keys, most))
