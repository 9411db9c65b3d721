"""What the leverage pages of one athlete may show to one viewer: record, styles, load, units."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date

from django.db.models import prefetch_related_objects

from analysis.core.leverages.findings import (
    STYLE_WORDS,
    StanceLimit,
    asked_setups,
    bounded_setup,
    may_see_rounded,
    stance_limits,
)
from analysis.core.leverages.knowing import knowing, knowing_words
from analysis.core.leverages.report import leverage_report, usual_stances
from analysis.core.pull.lifter_postures import lifter_postures
from analysis.core.records.bodies import BodyInput
from analysis.core.records.lifts import LifterRecord
from analysis.core.records.postures import OwnPosture
from analysis.core.records.pulls import LeverageReport, SetupInput, StyleReport
from analysis.core.records.wording import NO_BREAK
from analysis.figures.curves import Units
from analysis.store.bridge import Reading, lifter_seen
from analysis.store.profiles import today_in
from athletes.access.permissions import may, may_see_mass
from athletes.measuring.stale import is_stale
from athletes.models import Athlete, User
from athletes.models.choices import LengthUnit, Lift, Result
from athletes.people.services import stance_bounds
from athletes.schema.units import show_length, show_weight
from athletes.units.loads import canonical

USUAL_LOAD_KG = 100.0  # when nothing was logged or told
LABELS = {style: words.capitalize() for style, words in STYLE_WORDS.items()}


@dataclass(frozen=True, slots=True)
class Page:
    """One athlete before one viewer: everything the pages of this part start from."""

    athlete: Athlete
    lifter: LifterRecord
    body: BodyInput
    day: date
    load_kg: float
    load_why: str
    limits: tuple[StanceLimit, ...]
    sees_mass: bool
    length_unit: str
    weight_unit: str

    @property
    def measured(self) -> bool:
        """Whether there is a stature, without which no profile is drawn."""
        return "stature" in self.body.measured_m

    @property
    def stances(self) -> dict[str, float]:
        """People's usual stance (m) by style for a body of this size."""
        return usual_stances(self.body)

    @property
    def setups(self) -> list[SetupInput]:
        """The styles this athlete is shown, stances bounded by the first meeting and the discs."""
        return asked_setups(self.lifter, self.stances, self.limits, self.own)[0]

    @property
    def own(self) -> Mapping[str, OwnPosture]:
        """The lifter's own posture by style, where somebody looked."""
        return lifter_postures(self.lifter).own

    def stance_of(self, setup: SetupInput) -> float:
        """Where a style of this athlete is drawn, m from ankle to ankle: asked for, measured, or people's."""
        if setup.stance_m is not None:
            return setup.stance_m
        return setup.own.value("stance_m") if setup.own else self.stances[setup.preset]

    def usual(self, preset: str) -> SetupInput:
        """One style as this athlete can take it, whether or not it is shown beside the others."""
        mine = self.own.get("conventional" if preset == "rounded" else preset)
        return bounded_setup(self.lifter, preset, self.stances[preset], self.limits, mine)

    @property
    def first_to_change(self) -> str:
        """The style the what-if panel begins with: the widest one shown."""
        return [setup.preset for setup in self.setups if setup.preset != "rounded"][-1]

    @property
    def left_out(self) -> list[str]:
        """Styles not drawn because their bounded stance is that of another style."""
        return [LABELS[style] for style in asked_setups(self.lifter, self.stances, self.limits, self.own)[1]]

    @property
    def explains_rounding(self) -> bool:
        """Whether a rounded back may be explained on this athlete's pages."""
        return may_see_rounded(self.lifter)

    @property
    def length(self) -> Callable[[float], str]:
        """Writes metres in the viewer's unit."""
        return lambda metres: show_length(metres * 100.0, self.length_unit).replace(" ", NO_BREAK)

    @property
    def units(self) -> Units:
        """The viewer's length unit for axes and tables."""
        unit = self.length_unit
        return Units(unit, lambda metres: metres * 100.0 / canonical(1.0, unit))

    @property
    def load_words(self) -> str:
        """The load in the viewer's unit."""
        return show_weight(self.load_kg, self.weight_unit)

    def knowing(self, first: StyleReport, second: StyleReport) -> tuple[str, ...]:
        """What is known of a style against another, both as this athlete has them, and what would tell more."""
        asked = [self.usual(style.setup.preset) for style in (first, second) if style.setup]
        return knowing_words(knowing(self.body, first, second, asked), self.whole_length)

    @property
    def whole_length(self) -> Callable[[float], str]:
        """Writes metres in the viewer's unit to whole cm or half inches."""
        step = 0.5 if self.length_unit == LengthUnit.INCH else 1.0
        return lambda metres: f"{round(self.units.of(metres) / step) * step:g}{NO_BREAK}{self.length_unit}"

    def report(self) -> LeverageReport:
        """The athlete's body in every style shown."""
        return leverage_report(self.body, self.setups, self.load_kg)


def page_for(athlete: Athlete, viewer: User, lifter: LifterRecord | None = None) -> Page:
    """The athlete's pages before this viewer, as of today in the club; a lifter read already is not read again."""
    day = today_in(athlete.club)
    prefetch_related_objects([athlete], "style_records")
    lifter = lifter or lifter_seen(athlete, day, sees_health=may(viewer, athlete, "health"), log=False)
    load, why = known_load(athlete, day)
    return Page(
        athlete=athlete,
        lifter=lifter,
        body=replace(lifter.body, name=athlete.name),
        day=day,
        load_kg=load,
        load_why=why,
        limits=stance_limits(lifter, stance_bounds(athlete).disc_gap_less_shoes_m),
        sees_mass=may_see_mass(viewer, athlete),
        length_unit=viewer.length_unit,
        weight_unit=viewer.weight_unit,
    )


def known_load(athlete: Athlete, day: date) -> tuple[float, str]:
    """The heaviest pull made (kg) and where it is known from; a usual load when none is."""
    heaviest = (
        athlete.sets.filter(lift=Lift.DEADLIFT, result=Result.MADE, day__lte=day, load_kg__gt=0)
        .order_by("-load_kg")
        .values_list("load_kg", flat=True)
        .first()
    )
    told = max((row.best_kg for row in athlete.style_records.all() if row.best_kg), default=None)
    if heaviest is not None and heaviest >= (told or 0.0):
        return heaviest, "the heaviest pull in the log"
    if told is not None:
        return told, "the best told at the first meeting"
    return USUAL_LOAD_KG, "a round number, as no pull is logged yet"


def measured_on(readings: Mapping[str, Reading]) -> date | None:
    """Day of the latest length measured."""
    return max((reading.day for key, reading in readings.items() if key != "mass"), default=None)


def stale_lengths(athlete: Athlete, readings: Mapping[str, Reading], day: date) -> bool:
    """Whether a length measured so long ago that a minor has grown since stands in the picture."""
    return any(is_stale(athlete, r.day, day) for key, r in readings.items() if key != "mass")
