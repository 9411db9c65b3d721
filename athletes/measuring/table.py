"""Measures in words and numbers for the build page, in the reader's units."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from athletes.measuring.repeats import RELATIVE_TEM_LIMIT
from athletes.measuring.services import Measure, VisitReading
from athletes.models import Athlete, MeasuringVisit
from athletes.models.choices import LengthUnit, WeightUnit
from athletes.schema.measurements import MeasureKey as Key
from athletes.schema.measurements import measure_label
from athletes.schema.units import CM_PER_INCH, KG_PER_LB

SPARK_WIDTH, SPARK_HEIGHT = 96.0, 24.0
SPARK_REACH = 0.03  # share of the mean that fills the height, so that errors of measuring do not look like growth
SAME = 0.05  # cm or kg: shown with one decimal, this is no change


@dataclass(frozen=True)
class BuildRow:
    """One measure as the page shows it; `spark` are the points of its small line, "" for a single visit."""

    key: str
    label: str
    value: str
    day: date
    by: str
    repeats: str
    tem: str
    tem_wide: bool
    stale: bool
    trend: str
    spark: str
    visit: MeasuringVisit | None


def shown(key: str, value: float, length_unit: str, weight_unit: str) -> str:
    """A canonical value in the reader's unit, one decimal."""
    if key == Key.MASS:
        return f"{value / KG_PER_LB:.1f} lb" if weight_unit == WeightUnit.LB else f"{value:.1f} kg"
    return f"{value / CM_PER_INCH:.1f} in" if length_unit == LengthUnit.INCH else f"{value:.1f} cm"


def build_rows(measures: Mapping[str, Measure], length_unit: str, weight_unit: str) -> list[BuildRow]:
    return [build_row(m, length_unit, weight_unit) for m in measures.values()]


def build_row(measure: Measure, length_unit: str, weight_unit: str) -> BuildRow:
    latest = measure.latest
    tem, percent = latest.repeats.tem, latest.repeats.relative_tem
    by = latest.visit.measured_by if latest.visit else None
    return BuildRow(
        key=measure.key,
        label=measure_label(measure.key),
        value=shown(measure.key, latest.repeats.mean, length_unit, weight_unit),
        day=latest.day,
        by=str(by) if by else "noted on a training day" if latest.visit is None else "somebody who has left",
        repeats=repeats_words(latest, length_unit, weight_unit),
        tem="" if tem is None else f"{shown(measure.key, tem, length_unit, weight_unit)} ({percent:.1f} %)",
        tem_wide=percent is not None and percent > 100 * RELATIVE_TEM_LIMIT,
        stale=measure.stale,
        trend=trend_words(measure, length_unit, weight_unit),
        spark=spark_points([t.repeats.mean for t in reversed(measure.taken)]),
        visit=latest.visit,
    )


def repeats_words(taken: VisitReading, length_unit: str, weight_unit: str) -> str:
    values = taken.repeats.values
    if len(values) == 1:
        return "once"
    return ", ".join(shown(taken.repeats.key, v, length_unit, weight_unit).split()[0] for v in values)


def trend_words(measure: Measure, length_unit: str, weight_unit: str) -> str:
    """How the latest differs from the first visit, without any word about whether that is good."""
    if len(measure.taken) < 2:
        return ""
    first = measure.taken[-1]
    change = measure.latest.repeats.mean - first.repeats.mean
    if abs(change) < SAME:
        return f"the same since {first.day:%-d %b %Y}"
    sign = "+" if change >= 0 else "−"
    return f"{sign}{shown(measure.key, abs(change), length_unit, weight_unit)} since {first.day:%-d %b %Y}"


def spark_points(values: list[float]) -> str:
    """Points of a polyline, oldest at the left, centred on the middle of their range."""
    if len(values) < 2:
        return ""
    low, high = min(values), max(values)
    step = SPARK_WIDTH / (len(values) - 1)
    middle, reach = (low + high) / 2, max(high - low, SPARK_REACH * high)
    return " ".join(
        f"{2 + i * step * 0.96:.1f},{SPARK_HEIGHT / 2 - (v - middle) / reach * (SPARK_HEIGHT - 6):.1f}"
        for i, v in enumerate(values)
    )


@dataclass(frozen=True)
class VisitLine:
    """One visit with what was typed at it."""

    visit: MeasuringVisit
    typed: str


def visits_table(athlete: Athlete, see_mass: bool) -> list[VisitLine]:
    visits = athlete.visits.select_related("measured_by").prefetch_related("measurements")
    return [VisitLine(visit, typed_words(visit, see_mass)) for visit in visits]


def typed_words(visit: MeasuringVisit, see_mass: bool) -> str:
    """Everything typed at a visit, measure by measure; a hidden body mass is not even counted."""
    found: dict[str, list[str]] = {}
    for m in visit.measurements.all():
        if see_mass or m.key != Key.MASS:
            found.setdefault(m.get_key_display(), []).append(f"{m.typed} {m.unit}")
    return "; ".join(f"{label} {' / '.join(texts)}" for label, texts in found.items())
