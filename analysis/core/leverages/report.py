"""The front door to the mechanics: one athlete's body in several styles, with ranges, and sweeps over stances."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from analysis.core.body import constants as c
from analysis.core.body.anthropometry import drawn_bodies, filled_body, surprising
from analysis.core.leverages.style_reports import style_reports
from analysis.core.leverages.sweeps import stance_sweep
from analysis.core.pull.setups import DEFAULT_SETUPS, drawn_setups, exact_where, filled_setup
from analysis.core.pull.setups import usual_stances as stances_of
from analysis.core.records.bodies import BodyInput
from analysis.core.records.plain import CoreError, ImplausibleMeasurement
from analysis.core.records.pulls import GripCheck, LeverageReport, Setup, SetupInput, StyleReport
from analysis.core.records.wording import percent

__all__ = [
    "DEFAULT_SETUPS",
    "average_body",
    "checked_load",
    "leverage_report",
    "paired_setup",
    "stance_sweep",
    "surprising",
    "usual_stances",
    "with_arm_changed",
]

MAX_LOAD_KG = 1000.0
GRIP_TOLERANCE_M = 0.05


def average_body(sex: str, stature_m: float, age: float | None = None) -> BodyInput:
    """The body that an average person of this sex and stature has: only the stature is given, exactly."""
    return BodyInput(sex, {"stature": stature_m}, {"stature": 1e-4}, age, name="average build")


def leverage_report(
    lifter_body: BodyInput,
    setups: Sequence[SetupInput] = DEFAULT_SETUPS,
    load_kg: float = 200.0,
    draws: int = 200,
    seed: int = 0,
    heights: int = 61,
    push: float = c.DEFAULT_PUSH,
) -> LeverageReport:
    """A body in every setup at `load_kg`: lift-off, bar at the knee, lockout with ranges, and the whole pull.

    Values are of the filled body at the middle of its habits; low and high are the central 80 % over draws of the body
    and of every habit that is not known exactly. A setup that this body cannot take has its typed error in its
    StyleReport and leaves the others alone. Raises CoreError for a measurement or load that cannot be.
    """
    checked_load(load_kg)
    body = filled_body(lifter_body)
    bodies = drawn_bodies(lifter_body, draws, seed)
    stances = stances_of(bodies)
    filled = [_filled_or_error(asked, stances) for asked in setups]
    possible = [setup for setup in filled if isinstance(setup, Setup)]
    arrays = drawn_setups(possible, bodies, seed)
    reports = iter(style_reports(bodies, possible, arrays, load_kg, heights, push) if possible else ())
    styles = tuple(
        next(reports) if isinstance(setup, Setup) else StyleReport(asked.name or asked.preset, None, error=setup)
        for asked, setup in zip(setups, filled, strict=True)
    )
    check = _grip_check(lifter_body, styles)
    warnings = body.warnings + ((_grip_warning(check),) if check and not check.agrees else ())
    return LeverageReport(body, load_kg, draws, push, styles, check, warnings)


def checked_load(load_kg: float) -> float:
    """The load, or ImplausibleMeasurement when nobody can hold such a load in the hands."""
    if not (math.isfinite(load_kg) and 0.0 <= load_kg <= MAX_LOAD_KG):
        raise ImplausibleMeasurement("load", f"{load_kg:g} kg is not between 0 and {MAX_LOAD_KG:.0f} kg")
    return load_kg


def usual_stances(body: BodyInput) -> dict[str, float]:
    """The middle of people's stances (m) by style for this body, where nobody measured the lifter's own."""
    return stances_of(drawn_bodies(body, 0))


def paired_setup(usual: SetupInput, asked: SetupInput, body: BodyInput) -> SetupInput:
    """`usual` so that `asked` can be held against it: what `asked` fixes is fixed in both."""
    return exact_where(usual, asked, usual_stances(body))


def _filled_or_error(asked: SetupInput, stances: Mapping[str, float]) -> Setup | CoreError:
    try:
        return filled_setup(asked, stances)
    except CoreError as error:
        return error


def _grip_check(body: BodyInput, styles: tuple[StyleReport, ...]) -> GripCheck | None:
    measured = body.measured_m.get("standing_grip_height")
    found = [s for s in styles if s.setup and s.setup.preset == "conventional" and s.lockout_height_m]
    if measured is None or not found or body.arm_factor != 1.0:
        return None
    first = found[0]
    sole = first.setup.sole_m if first.setup else 0.0
    lockout = first.lockout_height_m.value - sole if first.lockout_height_m else math.nan
    difference = lockout - measured
    return GripCheck(measured, lockout, difference, abs(difference) <= GRIP_TOLERANCE_M)


def _grip_warning(check: GripCheck) -> str:
    return (
        f"The standing grip height ({check.measured_m * 100:.0f} cm) and the lockout the model gives "
        f"({check.lockout_m * 100:.0f} cm) are {abs(check.difference_m) * 100:.0f} cm apart: measure again."
    )


def with_arm_changed(body: BodyInput, factor: float) -> BodyInput:
    """The same athlete with arms `factor` times as long and all else as it is."""
    if not 0.8 <= factor <= 1.2:
        raise ImplausibleMeasurement(
            "arm", f"a change of {percent(factor - 1.0, signed=True)} is not between -20 % and +20 %"
        )
    return replace(body, arm_factor=factor)
