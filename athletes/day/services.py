"""A lifter's day as it stands: the next set, what a miss or pain changes of the plan, and logging with a tap."""

from __future__ import annotations

import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from math import floor

from django.db.models import Min

from athletes.log.plan_services import TAGS, sets_left
from athletes.log.services import club_now, log_set, was_taken_back
from athletes.models import Athlete, LiftSet, PlanItem, User
from athletes.models.choices import GaveWay, Lift, MissPosition, Result, WeightUnit
from athletes.schema.units import KG_PER_LB, format_number
from athletes.units.efforts import parse_effort
from athletes.units.loads import PLATES, parse_load

LIGHTER = 0.9  # of the missed load for the set after it; common practice, no source
MISSES_END = 2  # missed sets of one lift after which its heavy sets are gone for the day; common practice, no source
DEEP = (Lift.SQUAT, Lift.FRONT_SQUAT)


@dataclass(frozen=True, slots=True)
class NextSet:
    """The set to do now: its line, its number of how many, load as typed, repetitions, and what follows it."""

    item: PlanItem
    number: int
    of: int
    load_kg: float | None
    load_typed: str
    load_unit: str
    reps: int
    then: tuple[PlanItem, int] | None
    lighter: bool

    @property
    def asks_depth(self) -> bool:
        """Whether the lift is one whose depth is looked at."""
        return self.item.lift in DEEP


@dataclass(frozen=True, slots=True)
class Today:
    """The plan of a day with what was done of it; `ended` is "", "pain" or "heavy" (two misses)."""

    day: date
    items: list[PlanItem]
    rows: list[LiftSet]
    next: NextSet | None
    ended: str

    @property
    def coming(self) -> list[PlanItem]:
        """Lines after the one of the next set."""
        if self.next is None:
            return []
        return self.items[self.items.index(self.next.item) + 1 :]

    @property
    def done(self) -> bool:
        """Whether a plan was there and nothing of it is left."""
        return bool(self.items) and self.next is None


def today_of(athlete: Athlete, unit: str) -> Today:
    """The athlete's day in the zone of the club; loads that are not planned start from nothing in `unit`."""
    day = club_now(athlete).date()
    items = list(athlete.plan_items.filter(day=day).select_related("bar").order_by("order", "pk"))
    rows = list(athlete.sets.filter(day=day).select_related("author").order_by("order", "pk"))
    if any(row.result == Result.STOPPED_PAIN for row in rows):
        return Today(day, items, rows, None, "pain")
    left, gone = plan_left(items, rows)
    place = next((i for i, n in enumerate(left) if n), None)
    found = None if place is None else _next_set(items, left, place, rows, unit)
    return Today(day, items, rows, found, "heavy" if gone else "")


def plan_left(items: Sequence[PlanItem], rows: Sequence[LiftSet]) -> tuple[list[int], bool]:
    """Sets left of each line, and whether heavy ones were taken out after two misses of a lift.

    A set at the lighter load after a miss counts for its line as well; heavy are lines above that lighter load.
    """
    left = sets_left(items, rows)
    for place, item in enumerate(items):
        after = _lighter_sets(item, rows)
        left[place] = max(left[place] - after, 0)
    gone = False
    for place, item in enumerate(items):
        missed = [r.load_kg for r in _missed(rows, item)]
        if len(missed) >= MISSES_END and item.load_kg is not None and item.load_kg > LIGHTER * min(missed):
            gone = gone or left[place] > 0 or item.sets > 0
            left[place] = 0
    return left, gone


def _missed(rows: Sequence[LiftSet], item: PlanItem) -> list[LiftSet]:
    """Missed sets of the line's lift and style, oldest first."""
    return [r for r in rows if r.result == Result.MISSED and (r.lift, r.style) == (item.lift, item.style)]


def _lighter_sets(item: PlanItem, rows: Sequence[LiftSet]) -> int:
    """Sets after a miss that were too light to count for the line by their load."""
    missed = _missed(rows, item)
    if not missed or item.load_kg is None:
        return 0
    first, limit = rows.index(missed[0]), 0.9 * item.load_kg
    lighter = [r for r in rows[first + 1 :] if (r.lift, r.style) == (item.lift, item.style) and r.load_kg < limit]
    return len(lighter)


def _next_set(items: list[PlanItem], left: list[int], place: int, rows: list[LiftSet], unit: str) -> NextSet:
    """The next set of a line, lighter after a miss of it, with the line that follows."""
    item = items[place]
    load_kg, typed, load_unit = item.load_kg, item.load_typed, item.load_unit or unit
    missed = _missed(rows, item)
    lighter = bool(missed) and (load_kg is None or load_kg > lighter_load(missed[-1].load_kg, load_unit))
    if lighter:
        load_kg = lighter_load(missed[-1].load_kg, load_unit)
        typed = format_number(load_kg / KG_PER_LB if load_unit == WeightUnit.LB else load_kg, 2)
    after = next(((items[i], n) for i, n in enumerate(left) if i > place and n), None)
    rest = (item, left[place] - 1) if left[place] > 1 else after
    return NextSet(
        item, item.sets - left[place] + 1, item.sets, load_kg, typed, load_unit, item.reps, rest, lighter
    )  # fmt: skip


def lighter_load(missed_kg: float, unit: str) -> float:
    """Ten per cent under a missed load, rounded down to what plates make, kg."""
    step = float(PLATES[unit or "kg"]["step"])  # type: ignore[arg-type]
    scale = KG_PER_LB if unit == WeightUnit.LB else 1.0
    return floor(LIGHTER * missed_kg / scale / step + 1e-9) * step * scale


def next_planned(athlete: Athlete, day: date) -> list[PlanItem]:
    """The lines of the next planned day after this one; [] when nothing is planned."""
    first = athlete.plan_items.filter(day__gt=day).aggregate(day=Min("day"))["day"]
    return list(athlete.plan_items.filter(day=first).order_by("order", "pk")) if first else []


@dataclass(frozen=True, slots=True)
class Tap:
    """What was tapped: load and repetitions as they stood, reps left as typed ("" for none), depth as seen."""

    uid: uuid.UUID
    result: str
    load: str
    unit: str
    reps: int
    left: str = ""
    deep: bool = False


def log_tap(actor: User, athlete: Athlete, item: PlanItem | None, tap: Tap) -> LiftSet | None:
    """The set of a tap, written once however often it is sent; None where it was taken back since.

    UnreadableAmount when load or reps left cannot be read: then nothing is written.
    """
    stored = athlete.sets.filter(uid=tap.uid).first()
    if stored is not None or was_taken_back(athlete, tap.uid):
        return stored
    load = parse_load(tap.load, tap.unit)
    row = LiftSet(uid=tap.uid, day=club_now(athlete).date(), result=tap.result)
    if item is not None:
        for name in TAGS:
            column = "bar_id" if name == "bar" else name
            setattr(row, column, getattr(item, column))
        row.is_test = item.is_test
        new = athlete.trials.filter(status="running", new_style=item.style).exists() if item.style else False
        row.in_new_style = "yes" if new and item.lift == Lift.DEADLIFT else ""
    row.load_typed, row.load_unit, row.load_kg = load.typed, load.unit, load.value
    row.reps_tried = tap.reps
    row.reps_made = tap.reps if tap.result == Result.MADE else max(tap.reps - 1, 0)
    if tap.result == Result.STOPPED_PAIN:
        row.reps_made = 0
    if tap.left and tap.result == Result.MADE:
        row.effort_typed = f"RIR {tap.left}"
        row.rir_low, row.rir_high = parse_effort(row.effort_typed)
    row.depth_verified = tap.deep and row.lift in DEEP
    return log_set(actor, athlete, row)[0]


# What was seen at a miss, in the order of the keys; "rule" is the result of its own, "pain" ends the day.
SEEN = (
    (GaveWay.BACK_ROUNDED, "Back rounded"),
    (GaveWay.HIPS_SHOT_UP, "Hips shot up"),
    (GaveWay.STRAIGHT_BUT_ROUND, "Legs straight, back still round"),
    (GaveWay.FEET_MOVED, "Feet or knees moved"),
    (GaveWay.SLOWED_STOPPED, "Just stopped"),
    (GaveWay.GRIP_OPENED, "Grip"),
    (GaveWay.LOST_BALANCE, "Balance"),
)
PLACES = (
    (MissPosition.LOCKOUT, "Lockout"),
    (MissPosition.MID_THIGH, "Mid-thigh"),
    (MissPosition.AT_KNEE, "At the knee"),
    (MissPosition.BELOW_KNEE, "Below the knee"),
    (MissPosition.MID_SHIN, "Mid-shin"),
    (MissPosition.FLOOR, "At the floor"),
)
