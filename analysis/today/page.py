"""Today for one reader: the next set, why, one picture, what the coach asks."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.utils.safestring import SafeString, mark_safe

from analysis.core.body.anthropometry import filled_body
from analysis.core.records.messages import Message
from analysis.core.records.plain import message_from
from analysis.store.bridge import body_input
from analysis.text.say import Reader, reader_of, say
from analysis.today.course import SIZES, Course, course
from analysis.today.leg import heights_of, leg
from athletes.day.services import NextSet, Today
from athletes.log.words import pull_words
from athletes.models import Athlete, LiftSet, PlanItem, User
from athletes.schema.units import KG_PER_LB, show_weight

STATURE = {"f": 1.65, "m": 1.77}  # m: the leg of somebody not measured yet; from memory, a usual stature
COUNTED = {1: "once", 2: "twice", 3: "three times"}


def message_of(stored: Mapping[str, Any] | None) -> Message | None:
    """A stored message back as a message."""
    return None if stored is None else message_from(stored)


@dataclass(frozen=True, slots=True)
class Told:
    """Everything Today says besides the plan."""

    why: str
    why_style: str
    asks: str
    coach: str
    stop: bool
    caption: str
    pictures: list[SafeString]


def told(athlete: Athlete, viewer: User, stored: Mapping[str, Any], today: date) -> Told:
    """The stored profile in the reader's words; the coach's own words of the last decision come first."""
    reader = reader_of(athlete, viewer)
    asks = message_of(stored["asks"])
    last = athlete.decisions.first()
    own = last.words_for_athlete if last else ""
    picture = stored["picture"]
    caption = say(said, reader) if picture and (said := message_of(picture["said"])) else ""
    words = [say(one, reader) for one in (message_of(stored["why"]),) if one]
    return Told(
        why=own or (lower(words[0]) + "." if words else ""),
        why_style=last.get_main_style_display() if own and last and last.main_style else "",
        asks=lower(say(asks, reader)) if asks else "",
        coach=athlete.coach.first_name if athlete.coach else "Your coach",
        stop=stored["stop"],
        caption=caption,
        pictures=drawn(picture, caption, reader, today) if picture else [],
    )


def lower(text: str) -> str:
    """A sentence that goes on from words before it."""
    return text[:1].lower() + text[1:]


def drawn(picture: Mapping[str, Any], caption: str, reader: Reader, today: date) -> list[SafeString]:
    """The picture for a desk and for a phone, each with type of its own size."""
    factor = 1.0 / KG_PER_LB if reader.weight_unit == "lb" else 1.0
    one = Course(
        style=picture["style"],
        points=[(date.fromisoformat(day), factor * load) for day, load in picture["points"]],
        begins=date.fromisoformat(picture["begins"]),
        ends=date.fromisoformat(picture["ends"]),
        today=today,
        level=None if picture["level"] is None else factor * picture["level"],
        level_style=picture["level_style"],
        unit=reader.weight_unit,
    )
    return [mark_safe(course(one, caption, size)) for size in SIZES]  # noqa: S308 - escaped where it is drawn


def line_of(item: PlanItem, sets: int | None = None) -> str:
    """A planned line as it is said: "100 kg × 3, twice"; without a load "sumo deadlift × 3 up to RPE 8"."""
    load = f"{item.load_typed} {item.load_unit}" if item.load_typed else pull_words(item)
    cap = f" up to RPE {item.rpe_cap:g}" if item.rpe_cap and not item.load_typed else ""
    count = item.sets if sets is None else sets
    times = f", {COUNTED.get(count, f'{count} times')}" if count > 1 else ""
    return f"{load} × {item.reps}{cap}{times}"


def coming_line(item: PlanItem) -> str:
    """A later line with its lift: "Squat 95 kg × 4"."""
    name = pull_words(item)
    return f"{name[:1].upper()}{name[1:]} {line_of(item)}" if item.load_typed else line_of(item)


def rest_of(found: NextSet) -> str:
    """Where to stop and what follows: "Stop with 2 reps left. Then 100 kg × 3, twice.\""""
    parts = []
    if found.item.rpe_cap:
        left = f"{10 - found.item.rpe_cap:g}"
        parts.append(f"Stop with {left} rep{'' if left == '1' else 's'} left.")
    if found.then is not None:
        item, sets = found.then
        said = line_of(item, sets)
        same = (item.lift, item.style) == (found.item.lift, found.item.style)
        parts.append(f"Then {said if same else lower(coming_line(item))}.")
    return " ".join(parts)


@dataclass(frozen=True, slots=True)
class DoneSet:
    """A set of today as a line with its undo."""

    row: LiftSet
    text: str


def done_sets(day: Today, pain_shown: bool) -> list[DoneSet]:
    """Today's sets, newest first; a stop for pain is told only to who may see health."""
    found = []
    for row in reversed(day.rows):
        word = row.get_result_display()
        if row.result == "stopped-pain" and not pain_shown:
            word = "not tried"
        effort = f", {row.effort_typed}" if row.effort_typed else ""
        found.append(DoneSet(row, f"{row.load_typed} {row.load_unit} × {row.reps_tried}, {word}{effort}"))
    return found


def leg_of(athlete: Athlete, chosen: str) -> SafeString:
    """The standing leg of this lifter with the six places; of a usual stature where nothing is measured."""
    body = body_input(athlete)
    if "stature" not in body.measured_m:
        knee, hip = 0.27 * STATURE[athlete.sex], 0.52 * STATURE[athlete.sex]
        ankle, hands = 0.04 * STATURE[athlete.sex], 0.43 * STATURE[athlete.sex]
    else:
        filled = filled_body(body)
        ankle = filled.link("ankle").value
        knee = ankle + filled.link("shank").value
        hip, hands = knee + filled.link("thigh").value, filled.measurement("standing_grip_height").value
    heights = heights_of(knee, hip, hands)
    return mark_safe(leg(ankle, knee, heights, chosen))  # noqa: S308 - numbers and place names


def load_words(load_kg: float, unit: str) -> str:
    """A load in the unit it was typed in."""
    return show_weight(load_kg, unit or "kg")
