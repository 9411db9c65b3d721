"""The answer of the measuring sheet: what the four leading lengths say, what comes next, and they to one scale."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from html import escape

from django.urls import reverse
from django.utils.safestring import SafeString, mark_safe

from athletes.measuring.services import Measure
from athletes.measuring.table import shown
from athletes.models import Athlete
from athletes.schema.measurements import MeasureKey as Key
from athletes.schema.measurements import measure_label

LEADING = (Key.STATURE, Key.SITTING_HEIGHT, Key.ARM_SPAN, Key.STANDING_GRIP_HEIGHT)
ALIKE_CM = 1.0  # span and stature nearer than this are one length within the error of measuring
UNITS_PER_CM, FLOOR, WIDTH, HEIGHT = 1.15, 250.0, 430.0, 300.0
TICK = 6.0


@dataclass(frozen=True, slots=True)
class BuildAnswer:
    """Heading, ground, the one button and where it leads, and the picture ("" without a stature)."""

    heading: str
    ground: str
    button: str
    leads_to: str
    picture: SafeString


def build_answer(
    athlete: Athlete, measures: Mapping[str, Measure], length_unit: str, *, may_measure: bool, stale: bool
) -> BuildAnswer:
    """What the sheet says before its rows."""
    means = {str(key): measures[key].latest.repeats.mean for key in LEADING if key in measures}
    missing = [measure_label(key).lower() for key in LEADING if key not in means]
    button, leads_to = _step(athlete, bool(missing), may_measure=may_measure, stale=stale)
    return BuildAnswer(
        heading_of(means, length_unit), ground_of(means, missing, length_unit), button, leads_to,
        lengths_picture(means, length_unit),
    )  # fmt: skip


def heading_of(means: Mapping[str, float], length_unit: str) -> str:
    """How many of the four are known; with stature and span, how they differ."""
    if not means:
        return "Four lengths first"
    if Key.STATURE not in means or Key.ARM_SPAN not in means:
        return f"{len(means)} of 4 lengths known"
    more = means[Key.ARM_SPAN] - means[Key.STATURE]
    if abs(more) < ALIKE_CM:
        return "Arm span and stature are alike"
    return f"Arm span {shown(Key.ARM_SPAN, abs(more), length_unit, 'kg')} {'over' if more > 0 else 'under'} the stature"


def ground_of(means: Mapping[str, float], missing: list[str], length_unit: str) -> str:
    """What is missing and what it pays, else how much of the stature is trunk and where the hands hang."""
    if not means:
        return "Four lengths with a tape, five minutes, draw every style to scale."
    if missing:
        return f"Missing: {', '.join(missing)}. With all four every style is drawn to scale."
    sitting = 100.0 * means[Key.SITTING_HEIGHT] / means[Key.STATURE]
    grip = shown(Key.STANDING_GRIP_HEIGHT, means[Key.STANDING_GRIP_HEIGHT], length_unit, "kg")
    return f"Sitting height is {sitting:.0f} % of the stature; the hands hang at {grip}, where the bar locks out."


def _step(athlete: Athlete, missing: bool, *, may_measure: bool, stale: bool) -> tuple[str, str]:
    if not may_measure:
        return "How it is measured", reverse("how-to-measure")
    if missing or stale:
        return "Measure", reverse("measure", args=[athlete.pk])
    if not athlete.postures.exists():
        return "Measure stance and toes", reverse("posture", args=[athlete.pk])
    return "Add a lift-off still", reverse("pictures", args=[athlete.pk])


def lengths_picture(means: Mapping[str, float], length_unit: str) -> SafeString:
    """The leading lengths as dimension lines on one floor and to one scale, as inline SVG; "" without a stature."""
    if Key.STATURE not in means:
        return mark_safe("")
    stature = means[Key.STATURE]
    marks = [
        f'<path class="ink-line" d="M0,{FLOOR:.0f}H{WIDTH:.0f}"/>',
        _upright(Key.STATURE, 40.0, 0.0, stature, length_unit),
    ]
    if Key.SITTING_HEIGHT in means:
        marks.append(_upright(Key.SITTING_HEIGHT, 160.0, stature - means[Key.SITTING_HEIGHT], stature, length_unit))
    if Key.STANDING_GRIP_HEIGHT in means:
        marks.append(_upright(Key.STANDING_GRIP_HEIGHT, 285.0, 0.0, means[Key.STANDING_GRIP_HEIGHT], length_unit))
    if Key.ARM_SPAN in means:
        marks.append(_across(means[Key.ARM_SPAN], length_unit))
    words = "; ".join(f"{measure_label(k)} {shown(k, means[k], length_unit, 'kg')}" for k in LEADING if k in means)
    head = f'<svg viewBox="0 0 {WIDTH:.0f} {HEIGHT:.0f}" role="img" aria-label="{escape(words)}">'
    return mark_safe(f"{head}{''.join(marks)}</svg>")  # noqa: S308 - our own drawing, its words escaped


def _label(key: str, x: float, y: float, value: str) -> str:
    name = escape(measure_label(key).lower())
    return (
        f'<text class="soft" x="{x:.1f}" y="{y:.1f}">{name}</text>'
        f'<text x="{x:.1f}" y="{y + 18:.1f}">{escape(value)}</text>'
    )


def _upright(key: str, x: float, low_cm: float, high_cm: float, length_unit: str) -> str:
    """A vertical dimension line between two heights above the floor, with its name and value beside it."""
    bottom, top = (FLOOR - UNITS_PER_CM * z for z in (low_cm, high_cm))
    ends = "".join(f"M{x - TICK:.1f},{y:.1f}H{x + TICK:.1f}" for y in (bottom, top))
    line = f'<path class="ink-line" d="M{x:.1f},{bottom:.1f}V{top:.1f}{ends}"/>'
    return line + _label(key, x + 10.0, (bottom + top) / 2.0, shown(key, high_cm - low_cm, length_unit, "kg"))


def _across(span_cm: float, length_unit: str) -> str:
    """The arm span below the floor."""
    left, y = 40.0, FLOOR + 26.0
    right = left + UNITS_PER_CM * span_cm
    ends = "".join(f"M{x:.1f},{y - TICK:.1f}v{2 * TICK:.0f}" for x in (left, right))
    line = f'<path class="ink-line" d="M{left:.1f},{y:.1f}H{right:.1f}{ends}"/>'
    return line + _label(Key.ARM_SPAN, right + 10.0, y - 2.0, shown(Key.ARM_SPAN, span_cm, length_unit, "kg"))
