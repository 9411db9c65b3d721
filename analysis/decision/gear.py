"""What the decision reads of stance, grip and bar."""

from __future__ import annotations

from collections import Counter
from datetime import date, timedelta

from analysis.core.records.decision import BarAndGrip, Stance
from analysis.core.records.lifts import LifterRecord, SetRecord
from analysis.store.profiles import Sources
from athletes.models import Athlete, FirstMeeting
from athletes.schema.vocabulary import BarKind, GaveWay, Grip, Result

WINDOW = timedelta(weeks=12)
HEAVY = 0.85  # share of the best from which a set tells whether the grip holds
HELD_SETS = 4  # heavy sets without an opened hand from which the grip is said to hold (common practice, no source)


def stances_of(lifter: LifterRecord) -> tuple[Stance, ...]:
    """The widest stance tried with a dowel, and whether the hip pinched there."""
    if lifter.comfortable_stance_m is None:
        return ()
    return (Stance(lifter.comfortable_stance_m, tried=True, pinches=lifter.hip_pinch),)


def bar_and_grip_of(athlete: Athlete, sources: Sources, style: str, best_kg: float | None) -> BarAndGrip:
    """The grip of heavy sets and whether it holds, what a flexible bar would add, and whether meets use one."""
    heavy = heavy_sets(sources.lifter, style, best_kg, sources.as_of)
    told = FirstMeeting.objects.filter(athlete=athlete).values_list("grip", "bar_allowed").first()
    used = Counter(one.tags.grip for one in heavy if one.tags.grip != Grip.UNKNOWN).most_common(1)
    grip = used[0][0] if used else told[0] if told and told[0] != Grip.UNKNOWN else ""
    entry = (
        athlete.meet_entries.filter(meet__day__gte=sources.as_of).select_related("meet").order_by("meet__day").first()
    )
    bar = entry.meet.bar_kind if entry else told[1] if told else BarKind.UNKNOWN
    return BarAndGrip(
        grip=grip,
        holds=grip_holds(heavy) if grip else None,
        bar_gain_kg=bar_gain(sources, style) if best_kg else None,
        flexible_allowed=None if bar == BarKind.UNKNOWN else bar == BarKind.FLEXIBLE,
        flexible_at_meet=bar == BarKind.FLEXIBLE,
    )


def heavy_sets(lifter: LifterRecord, style: str, best_kg: float | None, day: date) -> list[SetRecord]:
    """Pulls of a style without straps from a heavy share of its best, in twelve weeks."""
    return [
        one
        for one in lifter.sets
        if best_kg is not None
        and one.tags.style == style
        and not one.tags.straps
        and day - WINDOW <= one.day <= day
        and one.load_kg >= HEAVY * best_kg
    ]


def grip_holds(heavy: list[SetRecord]) -> bool | None:
    """False once a hand opened, True after enough heavy sets made, None while that is not known."""
    if any(one.gave_way == GaveWay.GRIP_OPENED for one in heavy):
        return False
    return True if sum(one.result == Result.MADE for one in heavy) >= HELD_SETS else None


def bar_gain(sources: Sources, style: str) -> tuple[float, float, float] | None:
    """What statics gives a flexible bar in the style (kg) with its range; None where it was not worked out."""
    for gain in sources.profile("bar-and-grip")["gains"]:
        if gain["style"] == style:
            return gain["gain_kg"], gain["low_kg"], gain["high_kg"]
    return None
