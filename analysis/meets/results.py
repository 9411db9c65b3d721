"""An entry's body mass, class and points, for those who may see them; published formulas, marked as from memory."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from analysis.core.meets.scoring import MEMORY, age_group, dots, ipf_gl, weight_class
from analysis.core.records.plain import CoreError
from analysis.meets.rules import entrant_of, lifts_of
from analysis.meets.sums import total_of
from athletes.models import MeetEntry

Formula = Callable[[float, float, str], float]
READINGS_DIFFER_KG = 0.5  # two scales differ by less; calibration


@dataclass(frozen=True, slots=True)
class Points:
    """Body mass, class, age group and points of one entry; None or "" where they cannot be said."""

    mass_kg: float | None
    mass_from: str
    differ_kg: float | None
    weight_class: str
    age_group: str
    total_kg: float
    gl: float | None
    dots: float | None
    source: str
    words: str


def points_of(entry: MeetEntry) -> Points:
    """Points by the official body mass, else by the own reading; the caller has checked who may see them."""
    athlete, lifts = entry.own_athlete, lifts_of(entry.meet)
    mass = entry.official_mass_kg or entry.mass_kg
    differ = abs(entry.official_mass_kg - entry.mass_kg) if entry.official_mass_kg and entry.mass_kg else None
    full = {"squat", "bench", "deadlift"} <= set(lifts)
    total = total_of(entry, entrant_of(entry, lifts), lifts)
    counted = total if full else 0.0
    group = age_group(athlete.born.year, entry.meet.day.year) if athlete.born else ""
    young = group in ("sub-junior", "junior")
    return Points(
        mass_kg=mass,
        mass_from="official" if entry.official_mass_kg else "own reading" if entry.mass_kg else "",
        differ_kg=differ if differ is not None and differ > READINGS_DIFFER_KG else None,
        weight_class=weight_class(mass, athlete.sex, junior=young, year=entry.meet.day.year) if mass else "",
        age_group=group,
        total_kg=total,
        gl=scored(ipf_gl, counted, mass, athlete.sex),
        dots=scored(dots, counted, mass, athlete.sex),
        source=MEMORY,
        words=words_for(full, counted, mass),
    )


def scored(formula: Formula, total_kg: float, mass_kg: float | None, sex: str) -> float | None:
    """Points by one formula, None where it has nothing to say."""
    if not total_kg or not mass_kg:
        return None
    try:
        return formula(total_kg, mass_kg, sex)
    except CoreError:
        return None


def words_for(full: bool, total_kg: float, mass_kg: float | None) -> str:
    """Why there are no points, "" when there are."""
    if not full:
        return "The formulas are made for totals of three lifts; there is no set of coefficients for a deadlift alone."
    if not total_kg:
        return "Points need a total: one made attempt in each lift."
    return "" if mass_kg else "Points need a body mass."
