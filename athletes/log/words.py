"""A logged set or a planned line in the trade's words, for lists, the board and print."""

from dataclasses import dataclass

from athletes.models import LiftSet, PlanItem
from athletes.models.choices import BarKind, Grip, Lift, Result, Shape, Start, Style


@dataclass(frozen=True, slots=True)
class SetLine:
    """One row of a list of sets."""

    row: LiftSet
    load: str
    reps: str
    effort: str
    pull: str
    tags: str
    result: str
    mark: str  # the result's own word, that of a set not tried where a stop for pain may not be read
    detail: str


def set_line(row: LiftSet, pain_shown: bool) -> SetLine:
    return SetLine(
        row=row,
        load=f"{row.load_typed} {row.load_unit}",
        reps=reps_words(row.reps_made, row.reps_tried),
        effort=effort_words(row.effort_typed),
        pull=pull_words(row),
        tags=tag_words(row),
        result=result_words(row.result, pain_shown),
        mark=Result.NOT_TRIED if _hides_pain(row, pain_shown) else row.result,
        detail="" if _hides_pain(row, pain_shown) else detail_words(row),
    )


def _hides_pain(row: LiftSet, pain_shown: bool) -> bool:
    return row.result == Result.STOPPED_PAIN and not pain_shown


def reps_words(made: int, tried: int) -> str:
    """3, or “2 of 3” when not all were made."""
    return str(made) if made == tried else f"{made} of {tried}"


def effort_words(typed: str) -> str:
    """A bare number is read as RPE, and shown so."""
    bare = typed[:1] == "@" or (typed[:1].isdecimal() and not typed[-1:].isalpha())
    return f"RPE {typed.removeprefix('@')}" if bare else typed


def pull_words(row: LiftSet | PlanItem) -> str:
    """Such as “sumo deadlift, deficit 4 in, paused”."""
    name = f"{Style(row.style).label} {Lift(row.lift).label}" if row.style else Lift(row.lift).label
    parts = [name]
    if row.start != Start.FLOOR:
        parts.append(f"{Start(row.start).label} {row.start_typed} {row.start_unit}".strip())
    parts += [word for word, on in (("paused", row.paused), ("touch-and-go", not row.dead_stop)) if on]
    return ", ".join(parts)


def tag_words(row: LiftSet | PlanItem) -> str:
    """Bar, grip, kit, and the back at this load, as far as noted."""
    parts = []
    if row.bar is not None:
        parts.append(row.bar.name)
    elif row.bar_kind != BarKind.UNKNOWN:
        parts.append(BarKind(row.bar_kind).label)
    if row.grip != Grip.UNKNOWN:
        parts.append(Grip(row.grip).label)
    parts += [word for word in ("straps", "belt", "suit") if getattr(row, word)]
    if row.disc_diameter_cm != 45.0:
        parts.append(f"plates {row.disc_diameter_cm:g} cm")
    if isinstance(row, LiftSet) and row.shape != Shape.UNSEEN:
        region = f" ({row.get_shape_region_display()})" if row.shape_region else ""
        parts.append(f"back {row.get_shape_display()}{region}")
    parts += [
        word for word, name in (("depth seen", "depth_verified"), ("test", "is_test")) if getattr(row, name, False)
    ]
    return ", ".join(parts)


def result_words(result: str, pain_shown: bool) -> str:
    """The result; who may not read health notes sees a stop for pain and a set not tried as one."""
    if result in (Result.STOPPED_PAIN, Result.NOT_TRIED) and not pain_shown:
        return "stopped or not tried"
    return Result(result).label


def detail_words(row: LiftSet) -> str:
    """Where it stopped and what gave way, the rule of a no lift, or where a made set was slowest."""
    parts = []
    if row.miss_position:
        second = f" or {row.get_second_position_display()}" if row.second_position else ""
        parts.append(f"{row.get_miss_position_display()}{second}")
    if row.gave_way:
        parts.append(row.get_gave_way_display())
    if row.rule_reason:
        parts.append(row.get_rule_reason_display())
    if row.slowest_at:
        parts.append(f"slowest at {row.get_slowest_at_display()}")
    if row.what_changed:
        parts.append(row.get_what_changed_display())
    return "; ".join(parts)


@dataclass(frozen=True, slots=True)
class PlanLine:
    """One line of a plan."""

    item: PlanItem
    pull: str
    work: str
    tags: str


def plan_line(item: PlanItem) -> PlanLine:
    return PlanLine(item=item, pull=pull_words(item), work=work_words(item), tags=tag_words(item))


def work_words(item: PlanItem) -> str:
    """Such as “3 × 2 at 180 kg, up to RPE 8”."""
    load = f" at {item.load_typed} {item.load_unit}" if item.load_typed else ""
    cap = f"up to RPE {item.rpe_cap:g}" if item.rpe_cap is not None else ""
    return f"{item.sets} × {item.reps}{load}" + (f", {cap}" if cap else "")
