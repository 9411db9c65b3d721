"""The back-load page of one viewer: newton metres only where they may be seen."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from analysis.core.records.estimates import Finding, StyleSpacing
from analysis.core.records.lifts import LifterRecord
from analysis.core.records.messages import Message
from analysis.core.records.plain import CoreError, to_plain
from analysis.core.records.training import BackReview
from analysis.core.records.weak_link import StrengthRange
from analysis.core.settings import Settings
from analysis.core.training.back_load import CONTRARY, LIMITS
from analysis.core.training.back_load_review import back_load_review, in_capacity_reps
from analysis.figures.load import spacing_card, weeks_card
from analysis.figures.words import style_words
from analysis.progress.panel import Link, Panel, panel, weights
from analysis.progress.stored import record_from
from athletes.access.permissions import may_see_mass
from athletes.models import Athlete, User

NO_SETS = (
    "Log pulls, squats, rows and good mornings with load, reps and style: their moments at the lower back add up here, "
    "so that a jump in what the back holds is seen beside RPE and bar speed."
)
NO_HEAVY = (
    "No two heavy pulls (85 % of the running best and more; a setting) are logged in one style yet. Log heavy sets "
    "with style and RPE to see the days between them against the usual windows."
)
CHANGED = 0.15  # share from which four weeks count as more or less than the four before; common practice, no source
PLACES = {
    "sooner": "shorter than usual so far",
    "inside": "as usual",
    "longer": "longer than usual",
    "none": "no heavy pull logged yet",
}


@dataclass(frozen=True, slots=True)
class SpacingRow:
    """One style against its window, in words."""

    style: str
    days: int | None
    on: date | None
    key: str
    window: str
    place: str


@dataclass(frozen=True, slots=True)
class BackPage:
    """What the page says to one viewer."""

    heading: Message
    ground: Message
    spacing: tuple[SpacingRow, ...]
    by_lift: tuple[tuple[str, str, str], ...]
    findings: tuple[Finding, ...]
    contrary: tuple[Finding, ...]
    limits: str
    approximations: tuple[str, ...]
    left_out: tuple[tuple[str, int], ...]
    weeks: Panel
    heavy: Panel
    sees_newton_metres: bool
    capacity: str


def compute_back_load(
    lifter: LifterRecord, as_of: date, numbers: Settings, strengths: Sequence[StrengthRange]
) -> dict[str, Any]:
    """The review of one athlete as plain data to be stored; `problem` says why there is none."""
    try:
        review = back_load_review(lifter, as_of, numbers, strengths)
    except CoreError as error:
        return {"problem": str(error), "review": None}
    return {"problem": "", "review": to_plain(review)}


def back_page(payload: dict[str, Any], athlete: Athlete, viewer: User) -> BackPage | None:
    """The page from a stored payload; None when the body's measurements allow no review."""
    if payload["review"] is None:
        return None
    review = record_from(BackReview, payload["review"])
    sees_nm = may_see_mass(viewer, athlete)
    found, said = review.findings, heading(review)
    return BackPage(
        heading=said[0],
        ground=said[1],
        spacing=tuple(_spacing(s) for s in review.load.spacing),
        by_lift=tuple(_lift(lift, load, review.capacity_nm) for lift, load in review.load.by_lift_28_nm if load),
        findings=found if sees_nm else tuple(in_capacity_reps(f, review.capacity_nm) for f in found),
        contrary=CONTRARY,
        limits=LIMITS,
        approximations=review.approximations,
        left_out=review.left_out,
        weeks=_weeks(review, sees_nm),
        heavy=_heavy(review, viewer),
        sees_newton_metres=sees_nm,
        capacity=f"{review.capacity_nm:.0f} N m" if sees_nm else "",
    )


def heading(review: BackReview) -> tuple[Message, Message]:
    """Whether the hard reps of four weeks are rising, steady or falling against the four before."""
    now, before = review.load.last_28_nm / review.capacity_nm, review.load.before_28_nm / review.capacity_nm
    if not review.load.sets_counted:
        return Message("back.none"), Message("back.none.ground")
    change = now / before - 1.0 if before else 1.0
    word = "up" if change >= CHANGED else "down" if change <= -CHANGED else "steady"
    return Message(f"back.{word}"), Message("back.ground", {"now": round(now), "before": round(before)})


def _spacing(one: StyleSpacing) -> SpacingRow:
    low, high = one.window_days
    return SpacingRow(
        style_words(one.style), one.days_since, one.last_day, one.last_key, f"{low:g} to {high:g}", PLACES[one.place]
    )


def _lift(lift: str, load: float, capacity: float) -> tuple[str, str, str]:
    return lift.replace("-", " "), f"{load / capacity:.1f}", f"{load / 1000.0:.1f}"


def _weeks(review: BackReview, sees_nm: bool) -> Panel:
    shown = any(week.by_lift for week in review.weeks)
    return panel("weeks", "What did it hold each week?", [weeks_card(review, sees_nm)] if shown else [], NO_SETS)


def _heavy(review: BackReview, viewer: User) -> Panel:
    shown = any(h.gap_days is not None for h in review.heavy)
    figures = [spacing_card(review.heavy, review.load.spacing, review.load.as_of, weights(viewer))] if shown else []
    keys = tuple(h.key for h in review.heavy)[-40:]
    return panel(
        "heavy",
        "How are heavy pulls spaced?",
        figures,
        NO_HEAVY,
        links=[Link(f"the latest {len(keys)} heavy pulls", keys)],
    )
