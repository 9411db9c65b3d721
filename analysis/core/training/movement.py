"""How a running best moved in the last twelve weeks, the heading and the ground of the log that follow from it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from math import erf, log, sqrt

from analysis.core.estimates.running_best import level_on, sd_on
from analysis.core.records.estimates import RunningBest
from analysis.core.records.messages import Message, Quantity, Unit, Value, kg
from analysis.core.records.training import BestSeries, Movement

REACH = timedelta(weeks=12)
TOO_NEW = timedelta(days=14)  # a level held against one of less than two weeks ago says nothing: common practice
MOVED = 0.85  # chance from which the heading says up or down; the scale's "very likely"
IDLE_DAYS = 56  # without a set that counts: the level is a memory by then, common practice, no source
STOPPED_DAYS = 42  # without any pull: the heading says so instead of a movement, common practice, no source


def movement_of(best: RunningBest) -> Movement | None:
    """The level now against twelve weeks ago, or against the first day when that is later; None when too new.

    The chance takes the two levels as independent. They share sets, so the true spread of the difference is smaller
    and "up" and "down" are said later rather than sooner.
    """
    since = max(best.days[0], best.as_of - REACH)
    then, sd = level_on(best, since), sd_on(best, since)
    if then is None or sd is None or best.as_of - since < TOO_NEW:
        return None
    spread = sqrt(sd * sd + best.sd_log[-1] ** 2)
    chance = 0.5 * (1.0 + erf(log(best.now_kg / then) / spread / sqrt(2.0)))
    return Movement(since, round(then, 1), round(best.now_kg, 1), chance)


def word_of(one: BestSeries) -> str:
    """ "up", "down", "level", "idle" (nothing counted for eight weeks) or "new"."""
    if one.idle_days >= IDLE_DAYS:
        return "idle"
    if one.movement is None:
        return "new"
    if one.movement.chance_up >= MOVED:
        return "up"
    return "down" if one.movement.chance_up <= 1.0 - MOVED else "level"


def in_order(series: Sequence[BestSeries]) -> list[BestSeries]:
    """The series that moved most first, then by days logged; idle ones last."""

    def rank(one: BestSeries) -> tuple[bool, float, int]:
        moved = one.movement and word_of(one) in ("up", "down")
        change = abs(log(one.movement.now_kg / one.movement.then_kg)) if moved and one.movement else 0.0
        return word_of(one) == "idle", -change, -one.sessions

    return sorted(series, key=rank)


def log_heading(series: Sequence[BestSeries], pulls: int, last: date | None, as_of: date) -> tuple[Message, Message]:
    """Heading and ground of the log: what moved, or why nothing can be said of movement yet."""
    if last is None:
        return Message("log.nothing"), Message("log.nothing.ground")
    if not series:
        return Message("log.no-best", {"pulls": pulls}), Message("log.no-best.ground")
    first, *others = in_order(series)
    stopped = (as_of - last).days
    now = kg(first.level_kg[-1], first.low_kg[-1], first.high_kg[-1])
    if stopped >= STOPPED_DAYS:
        weeks = Quantity(stopped // 7, Unit.WEEK)
        return Message("log.stopped", {"weeks": weeks}), Message(
            "log.stopped.ground", {"style": name(first), "now": now}
        )
    second = others[0] if others else None
    values: dict[str, Value] = {"style": name(first), "days": Quantity(first.sessions, Unit.DAY), **_moved(first)}
    if second is None:
        return Message(f"log.{word_of(first)}", values), Message("log.ground", {"now": now})
    values["other"] = name(second)
    then = kg(second.level_kg[-1], second.low_kg[-1], second.high_kg[-1])
    beside: dict[str, Value] = {"now": now, "other": name(second).capitalize(), "then": then}
    return Message(f"log.{word_of(first)}.{word_of(second)}", values), Message("log.ground.two", beside)


def name(one: BestSeries) -> str:
    """The style, or the lift where a set has no style."""
    return one.style or one.label.partition(",")[0]


def _moved(one: BestSeries) -> dict[str, Value]:
    """The change in whole kilograms of the shown levels, and the month it is held against."""
    if one.movement is None:
        return {}
    change = abs(round(one.movement.now_kg) - round(one.movement.then_kg))
    return {"change": kg(float(change)), "month": f"{one.movement.since:%B}"}
