"""The front door to the mechanics: one athlete's body in several styles, with ranges, and sweeps over stances."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

import numpy as np
import numpy.typing as npt

from analysis.errors import CoreError, ImplausibleMeasurement, ImpossibleStance
from analysis.mechanics import constants as c
from analysis.mechanics.anthropometry import drawn_bodies, filled_body, surprising
from analysis.mechanics.bar import carried_load, rise_of_hands
from analysis.mechanics.body import Body
from analysis.mechanics.moments import Moments, moments_of
from analysis.mechanics.posture import Rig
from analysis.mechanics.pull import Postures, head_of, impossible, postures_at, problem_of, rig_of
from analysis.mechanics.setups import DEFAULT_SETUPS, filled_setup, setup_arrays
from analysis.records.bodies import BodyInput
from analysis.records.pulls import (
    Estimate,
    GripCheck,
    LeverageReport,
    Setup,
    SetupInput,
    StyleReport,
)

__all__ = ["DEFAULT_SETUPS", "average_body", "leverage_report", "surprising"]

FloatArray = npt.NDArray[np.float64]
LIFT_OFF, AT_KNEE, LOCKOUT = 0, 1, 2
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

    Values are of the filled body; low and high are the central 80 % over draws of the body (links only). A setup
    that this body cannot take has its typed error in its StyleReport and leaves the others alone. Raises CoreError
    for a measurement or load that cannot be.
    """
    checked_load(load_kg)
    body = filled_body(lifter_body)
    bodies = drawn_bodies(lifter_body, draws, seed)
    filled = [_filled_or_error(asked) for asked in setups]
    possible = [setup for setup in filled if isinstance(setup, Setup)]
    reports = iter(_style_reports(bodies, possible, load_kg, heights, push) if possible else ())
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


def _filled_or_error(asked: SetupInput) -> Setup | CoreError:
    try:
        return filled_setup(asked)
    except CoreError as error:
        return error


def bar_rise(setup: Setup, load_kg: float) -> float:
    """Rise of the hands (m) before the discs leave the floor in this setup; 0 when bending is not counted."""
    if not setup.bar_bends:
        return 0.0
    return rise_of_hands(load_kg, setup.hand_spacing_m, setup.bar_diameter_m, setup.bar_span_m)


def moments_in(r: Rig, p: Postures, push: float) -> Moments:
    """Moments of postures of a rig."""
    return moments_of(r.body, r.setups, p, push)


def quantities(p: Postures, m: Moments, carried_kg: FloatArray | float) -> dict[str, FloatArray]:
    """Every reported quantity of postures that carry `carried_kg`: QUANTITY_KEYS and EXTRA_KEYS."""
    degrees = np.degrees
    return {
        "z_m": p.z,
        "u": p.u,
        "knee_flexion_deg": degrees(p.knee_flexion),
        "hip_flexion_deg": degrees(p.hip_flexion),
        "trunk_angle_deg": degrees(p.trunk_angle),
        "shank_lean_deg": degrees(p.shank_lean),
        "hip_bar_distance_m": p.hip_bar_distance,
        "hip_moment_nm": m.hip.at(carried_kg),
        "knee_moment_nm": m.knee.at(carried_kg),
        "adductor_moment_nm": m.adductor.at(carried_kg),
        "trunk_moment_nm": m.trunk.at(carried_kg),
        "l4l5_moment_nm": m.l4l5.at(carried_kg),
        "ankle_moment_nm": m.ankle.at(carried_kg),
        "knee_demand_nm": m.knee_demand.at(carried_kg),
        "carried_load_kg": np.asarray(carried_kg + 0.0 * p.z),
        "thigh_angle_deg": degrees(np.arctan2(p.hip_z - p.knee_z, p.knee_x - p.hip_x)),
        "spinal_flexion_deg": degrees(p.spinal_flexion),
    }


def _style_reports(bodies: Body, setups: list[Setup], load_kg: float, heights: int, push: float) -> list[StyleReport]:
    r = rig_of(bodies, setup_arrays(setups))
    rise = np.array([bar_rise(setup, load_kg) for setup in setups])[None, :, None]
    start = r.setups.start_height + 0.0 * r.lockout_z
    at_knee = np.minimum(np.maximum(r.knee_z, start + rise), r.lockout_z)
    events = postures_at(r, np.concatenate([start + rise, at_knee, r.lockout_z], axis=2))
    at_events = quantities(events, moments_in(r, events, push), load_kg)
    problems = problem_of(r, events)

    first = rig_of(bodies.mapped(lambda array: array[:1]), setup_arrays(setups))
    steps = np.linspace(0.0, 1.0, heights)
    begin = first.setups.start_height
    pull = postures_at(first, begin + (first.lockout_z - begin) * steps)
    carried = carried_load(load_kg, rise[0], pull.z - begin)
    in_pull = quantities(pull, moments_in(first, pull, push), carried)
    joints = joint_places(first, pull)
    pull_problems = problem_of(first, pull)
    return [
        _style_report(at, setup, r, float(rise[0, at, 0]), at_events, problems, in_pull, joints, pull_problems)
        for at, setup in enumerate(setups)
    ]


def joint_places(r: Rig, p: Postures) -> dict[str, FloatArray]:
    """Coordinates (athletes, styles, heights, 3) of every joint to draw on the near side (m)."""
    head_x, head_z = head_of(r.body, p)
    sole = r.setups.sole + 0.0 * p.z
    cos, sin = np.cos(r.setups.turnout), np.sin(r.setups.turnout)
    heel, toe = -c.HEEL_BEHIND_ANKLE * r.body.foot, (1.0 - c.HEEL_BEHIND_ANKLE) * r.body.foot
    shoulder_y = r.body.shoulder_spacing / 2.0
    zero = np.zeros_like(p.z)
    places: Mapping[str, tuple[FloatArray, FloatArray, FloatArray]] = {
        "heel": (heel * cos, p.ankle_y + heel * sin, sole),
        "toe": (toe * cos, p.ankle_y + toe * sin, sole),
        "ankle": (zero, p.ankle_y, p.ankle_z),
        "knee": (p.knee_x, p.knee_y, p.knee_z),
        "hip": (p.hip_x, p.hip_y, p.hip_z),
        "mid_spine": (p.mid_x, zero, p.mid_z),
        "shoulder": (p.shoulder_x, shoulder_y, p.shoulder_z),
        "hand": (p.bar_x, r.setups.hand_spacing / 2.0, p.z),
        "head": (head_x, zero, head_z),
    }
    return {
        name: np.stack([np.broadcast_to(axis, p.z.shape) for axis in place], axis=-1) for name, place in places.items()
    }


def ranged(values: FloatArray) -> Estimate:
    """The first of `values` with the central 80 % of the others (NaN left out) around it."""
    value, others = float(values[0]), values[1:]
    others = others[np.isfinite(others)]
    if others.size == 0:
        return Estimate(value, value, value)
    low, high = np.percentile(others, (10.0, 90.0))
    return Estimate(value, min(float(low), value), max(float(high), value))


def ranged_all(values: Mapping[str, FloatArray], pick: Callable[[FloatArray], FloatArray]) -> dict[str, Estimate]:
    """`ranged` of every quantity at once; `pick` takes one (draws,) column out of a quantity's array."""
    table = np.stack([pick(array) for array in values.values()])
    fit = np.isfinite(table).all(axis=0)
    draws = table[:, 1:][:, fit[1:]]
    if draws.shape[1] == 0:
        draws = table[:, :1]
    low, high = np.percentile(draws, (10.0, 90.0), axis=1)
    value = table[:, 0]
    triples = zip(value, np.minimum(low, value), np.maximum(high, value), strict=True)
    return {key: Estimate(*map(float, triple)) for key, triple in zip(values, triples, strict=True)}


def _style_report(
    at: int,
    setup: Setup,
    r: Rig,
    rise: float,
    at_events: dict[str, FloatArray],
    problems: npt.NDArray[np.int64],
    in_pull: dict[str, FloatArray],
    joints: dict[str, FloatArray],
    pull_problems: npt.NDArray[np.int64],
) -> StyleReport:
    problem = int(problems[0, at]) or int(pull_problems[0, at])
    if problem:
        return StyleReport(setup.name, setup, error=impossible(problem), bar_rise_m=rise)
    possible = float(np.mean(problems[1:, at] == 0)) if len(problems) > 1 else 1.0
    starts_below_knee = bool(setup.start_height_m + rise < r.knee_z[0, at, 0])

    def event(which: int) -> dict[str, Estimate]:
        return ranged_all(at_events, lambda array: array[:, at, which])

    lockout = event(LOCKOUT)
    height = lockout["z_m"]
    start = setup.start_height_m
    pull = {key: array[0, at] for key, array in in_pull.items()}
    return StyleReport(
        name=setup.name,
        setup=setup,
        lift_off=event(LIFT_OFF),
        knee=event(AT_KNEE) if starts_below_knee else None,
        lockout=lockout,
        pull=pull,
        joints={name: places[0, at] for name, places in joints.items()},
        knee_index=int(np.argmin(np.abs(pull["z_m"] - r.knee_z[0, at, 0]))),
        lockout_height_m=height,
        range_of_motion_m=Estimate(height.value - start, height.low - start, height.high - start),
        bar_rise_m=rise,
        draws_possible=possible,
        warnings=_style_warnings(possible),
    )


def _style_warnings(possible: float) -> tuple[str, ...]:
    if possible >= 0.9:
        return ()
    return (
        f"Near the limit of this body: only {possible:.0%} of the bodies that fit the measurements can take "
        "this setup; measuring more would settle it.",
    )


def _grip_check(body: BodyInput, styles: tuple[StyleReport, ...]) -> GripCheck | None:
    measured = body.measured_m.get("standing_grip_height")
    found = [s for s in styles if s.setup and s.setup.preset == "conventional" and s.lockout_height_m]
    if measured is None or not found:
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
    """The same athlete with arms `factor` times as long: the standing grip height moved, all else as filled."""
    if not 0.8 <= factor <= 1.2:
        raise ImpossibleStance("arm", f"a change of {factor - 1.0:+.0%} is not between -20 % and +20 %")
    filled = filled_body(body)
    arm = filled.link("arm").value
    known = {length.key: length.value for length in filled.measurements}
    known["standing_grip_height"] -= (factor - 1.0) * arm
    spread = {length.key: max(length.sd, 1e-4) for length in filled.measurements}
    return replace(body, measured_m=known, sd_m=spread)
