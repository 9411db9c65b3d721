"""What stands behind each style, as one viewer may read it: reasons by kind, drawn leverages in words."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from django.db.models import prefetch_related_objects

from analysis.core.leverages.findings import story
from analysis.core.records.lifts import LifterRecord
from analysis.core.records.plain import CoreError
from analysis.core.settings import Settings
from analysis.core.styles.comparison import FLOOR_STYLES, StyleComparison, StyleReason, TrialNews, compare_styles
from analysis.leverages.page import Page, page_for
from analysis.store.bridge import lifter_seen
from analysis.store.club_numbers import numbers_for
from analysis.trials.reading import verdict_of
from athletes.access.permissions import may
from athletes.models import Athlete, User

KINDS = (
    ("trial", "Trials"),
    ("log", "Logged bests"),
    ("build", "Build (says little on its own)"),
    ("bar", "Bar and pull time"),
    ("grip", "Grip"),
    ("years", "Years in each style"),
    ("house", "House rule"),
)


@dataclass(frozen=True, slots=True)
class ShownComparison:
    """The comparison with its reasons grouped by kind, strongest kind first."""

    found: StyleComparison
    groups: tuple[tuple[str, tuple[StyleReason, ...]], ...]


def comparison_for(athlete: Athlete, viewer: User, as_of: date) -> ShownComparison:
    """The comparison of an athlete's styles as this viewer may read it."""
    prefetch_related_objects([athlete], "style_records")
    years = {row.style: row.years for row in athlete.style_records.all() if row.years}
    sees_health, numbers = may(viewer, athlete, "health"), numbers_for(athlete)
    lifter = lifter_seen(athlete, as_of, sees_health=sees_health)
    found = compare_styles(
        lifter,
        as_of,
        numbers,
        trial=latest_trial(athlete, as_of, lifter, numbers, sees_health),
        years=years,
        build_words=build_words(page_for(athlete, viewer, lifter)),
    )
    groups = ((heading, tuple(r for r in found.reasons if r.kind == kind)) for kind, heading in KINDS)
    return ShownComparison(found, tuple((heading, rows) for heading, rows in groups if rows))


def latest_trial(
    athlete: Athlete, as_of: date, lifter: LifterRecord, numbers: Settings, sees_health: bool
) -> TrialNews | None:
    """The athlete's newest trial, judged as of today or of the day it was decided."""
    trial = athlete.trials.order_by("-started_on").first()
    if trial is None:
        return None
    last = trial.decisions.order_by("-on").first()
    if last and trial.status != "running":
        judged = verdict_of(trial, last.on, numbers=numbers, sees_health=sees_health)
    else:
        judged = verdict_of(trial, as_of, lifter=lifter, numbers=numbers)
    return TrialNews(trial.new_style, trial.old_style, judged, last.verdict if last else "")


def build_words(page: Page) -> dict[str, tuple[str, ...]]:
    """Sentences of the leverage profile for each style against conventional; none without a stature."""
    if not page.measured:
        return {}
    try:
        shown = {s.name: s for s in page.report().styles if s.error is None and s.name in FLOOR_STYLES}
    except CoreError:
        return {}
    base = shown.get("conventional")
    if base is None:
        return {}
    return {
        name: story(base, report, page.length, page.sees_mass).sentences
        for name, report in shown.items()
        if name != "conventional"
    }
