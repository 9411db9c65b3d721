"""The plan of a lifter's day: what comes next, what is usual, and copying it from last time."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date
from typing import Any

from django.db import transaction
from django.db.models import Max
from django.forms import BaseModelFormSet

from athletes.access.audit import fields_of, record
from athletes.log.services import club_now
from athletes.models import Athlete, LiftSet, PlanItem, User

TAGS = [
    "lift", "style", "bar", "bar_kind", "grip", "straps", "belt", "suit",
    "start", "start_typed", "start_unit", "start_cm", "disc_diameter_cm", "dead_stop", "paused",
]  # fmt: skip
KIT = ("straps", "belt", "suit")
FOLLOWED = ["sets", "reps", "load_typed", "load_unit", "load_kg", "rpe_cap", "note", "cue", "is_test"]
NEAR = 0.10  # a set counts for a planned line within a tenth of its load; calibration by use on the floor


def tags_of(row: LiftSet | PlanItem) -> dict[str, object]:
    """What makes sets comparable, by field name."""
    return {name: getattr(row, f"{name}_id" if name == "bar" else name) for name in TAGS}


def counts_for(item: PlanItem, row: LiftSet) -> bool:
    """Whether a logged set is one of a planned line's sets."""
    same = all(getattr(item, name) == getattr(row, name) for name in ("lift", "style", "start", "paused"))
    return same and (item.load_kg is None or abs(row.load_kg - item.load_kg) <= NEAR * item.load_kg)


def sets_left(items: Sequence[PlanItem], rows: Iterable[LiftSet]) -> list[int]:
    """Sets still to do of each planned line; every logged set counts for the first line it fits."""
    left = [item.sets for item in items]
    for row in rows:
        for place, item in enumerate(items):
            if left[place] and counts_for(item, row):
                left[place] -= 1
                break
    return left


def next_item(items: Sequence[PlanItem], rows: Iterable[LiftSet]) -> PlanItem | None:
    """The first planned line with sets left."""
    return next((item for item, left in zip(items, sets_left(items, rows), strict=True) if left), None)


def last_set(athlete: Athlete, lift: str = "") -> LiftSet | None:
    """The latest set, of one lift when it is named."""
    rows = athlete.sets.filter(lift=lift) if lift else athlete.sets.all()
    return rows.order_by("-day", "-order", "-pk").first()


def prefill(item: PlanItem | None, last: LiftSet | None, unit: str) -> dict[str, object]:
    """The next set's fields: the plan where it speaks, else what was usual last time."""
    found: dict[str, object] = {"load_unit": unit, "reps_tried": 1}
    if last is not None:
        found |= tags_of(last) | {
            "load_typed": last.load_typed, "load_unit": last.load_unit, "reps_tried": last.reps_tried
        }  # fmt: skip
    if item is not None:
        planned = tags_of(item)
        for name in ("bar", "bar_kind", "grip"):
            if planned[name] in (None, "", "unknown"):
                planned.pop(name)
        if last is not None and (last.lift, last.style) == (item.lift, item.style):
            planned |= {name: planned[name] or getattr(last, name) for name in KIT}
        found |= planned | {"reps_tried": item.reps, "is_test": item.is_test}
        if item.load_typed:
            found |= {"load_typed": item.load_typed, "load_unit": item.load_unit}
    return found


def usual_fields(athlete: Athlete, user: User) -> dict[str, object]:
    """What a new set's form starts with."""
    day = club_now(athlete).date()
    item = next_item(list(athlete.plan_items.filter(day=day)), athlete.sets.filter(day=day).order_by("order", "pk"))
    last = last_set(athlete, item.lift if item else "")
    return {"day": day, **prefill(item, last, user.weight_unit)}


def last_planned_day(athlete: Athlete, before: date) -> date | None:
    """The latest day before this one that has a plan."""
    return athlete.plan_items.filter(day__lt=before).aggregate(day=Max("day"))["day"]


def copy_last_plan(actor: User, athlete: Athlete, day: date) -> int:
    """Copy the lines of the latest planned day before `day` to its end; 0 when there is none."""
    source = last_planned_day(athlete, day)
    if source is None:
        return 0
    with transaction.atomic():
        start = (athlete.plan_items.filter(day=day).aggregate(last=Max("order"))["last"] or 0) + 1
        lines = [
            PlanItem(
                athlete=athlete, author=actor, day=day, order=start + place, trial_id=item.trial_id,
                bar_id=item.bar_id, **{n: getattr(item, n) for n in [*TAGS, *FOLLOWED] if n != "bar"},
            )
            for place, item in enumerate(athlete.plan_items.filter(day=source))
        ]  # fmt: skip
        for line in lines:
            line.save(force_insert=True)
            record(actor, "planned", line, after={"day": str(day), "line": str(line), "copied from": str(source)})
    return len(lines)


def save_lines(actor: User, athlete: Athlete, day: date, lines: "BaseModelFormSet[PlanItem, Any]") -> None:
    """Write the changed, new and removed lines of a day's plan, with what they were."""
    with transaction.atomic():
        kept = {item.pk: fields_of(item) for item in athlete.plan_items.filter(day=day)}
        lines.save(commit=False)
        for row in lines.deleted_objects:
            record(actor, "deleted", row, before=kept.get(row.pk))
            row.delete()
        for row, _ in lines.changed_objects:
            row.author = actor
            row.save()
            record(actor, "corrected", row, kept.get(row.pk), fields_of(row))
        order = athlete.plan_items.filter(day=day).aggregate(last=Max("order"))["last"] or 0
        for place, row in enumerate(lines.new_objects, start=order + 1):
            row.athlete, row.author, row.day, row.order = athlete, actor, day, place
            row.save()
            record(actor, "planned", row, after={"day": str(day), "line": str(row)})


def plans_of_day(keys: list[int], day: date) -> dict[int, list[PlanItem]]:
    return by_athlete(PlanItem.objects.filter(athlete__in=keys, day=day).select_related("bar"))


def by_athlete(rows: Iterable[Any]) -> dict[int, list[Any]]:
    found = defaultdict(list)
    for row in rows:
        found[row.athlete_id].append(row)
    return found
