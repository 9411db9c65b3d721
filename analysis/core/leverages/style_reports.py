"""One body in several styles: the numbers at lift-off, at the knee and at lockout, the whole pull, and the joints."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import numpy as np
import numpy.typing as npt

from analysis.core.body import constants as c
from analysis.core.body.body import Body
from analysis.core.pull.bar import carried_load, rise_of_hands
from analysis.core.pull.moments import Moments, moments_of
from analysis.core.pull.posture import Rig
from analysis.core.pull.pull import Postures, head_of, impossible, postures_at, problem_of, rig_of
from analysis.core.pull.setups import Setups
from analysis.core.records.pulls import Estimate, Setup, StyleReport
from analysis.core.records.wording import percent

FloatArray = npt.NDArray[np.float64]
LIFT_OFF, AT_KNEE, LOCKOUT = 0, 1, 2


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
        "thigh_angle_deg": degrees(p.thigh_angle),
        "hip_angle_deg": degrees(p.hip_angle),
        "hip_angle_3d_deg": degrees(p.hip_angle_3d),
        "arm_angle_deg": degrees(p.arm_angle),
        "spinal_flexion_deg": degrees(p.spinal_flexion),
    }


def events_of(bodies: Body, setups: list[Setup], arrays: Setups, load_kg: float) -> tuple[Rig, Postures, FloatArray]:
    """Postures (bodies, styles, 3) when the discs leave the floor, with the bar at the knee, and at lockout."""
    r = rig_of(bodies, arrays)
    rise = np.array([bar_rise(setup, load_kg) for setup in setups])[None, :, None]
    start = r.setups.start_height + rise + 0.0 * r.lockout_z
    at_knee = np.minimum(np.maximum(r.knee_z, start), r.lockout_z)
    return r, postures_at(r, np.concatenate([start, at_knee, r.lockout_z], axis=2)), rise


def style_reports(
    bodies: Body, setups: list[Setup], arrays: Setups, load_kg: float, heights: int, push: float
) -> list[StyleReport]:
    """Reports of drawn bodies (the filled one first) in setups; `arrays` are the setups with their drawn habits."""
    r, events, rise = events_of(bodies, setups, arrays, load_kg)
    at_events = quantities(events, moments_in(r, events, push), load_kg)
    problems = problem_of(r, events)

    one = slice(0, 1)
    first = rig_of(bodies.rows(one), arrays.of_rows(one))
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
    fit = np.asarray(np.isfinite(table).all(axis=0))
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
        return StyleReport(setup.name, setup, error=impossible(problem, setup.stance_m), bar_rise_m=rise)
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
        draws=_draws_of(at_events, at, start),
        knee_index=int(np.argmin(np.abs(pull["z_m"] - r.knee_z[0, at, 0]))),
        lockout_height_m=height,
        range_of_motion_m=Estimate(height.value - start, height.low - start, height.high - start),
        bar_rise_m=rise,
        draws_possible=possible,
        warnings=_style_warnings(possible),
    )


def _draws_of(at_events: dict[str, FloatArray], at: int, start: float) -> dict[str, FloatArray]:
    top = at_events["z_m"][:, at, LOCKOUT]
    lift_off = {key: array[:, at, LIFT_OFF] for key, array in at_events.items()}
    return lift_off | {"lockout_height_m": top, "range_of_motion_m": top - start}


def _style_warnings(possible: float) -> tuple[str, ...]:
    if possible >= 0.9:
        return ()
    return (
        f"Near the limit of this body: only {percent(possible)} of the bodies and habits that fit what is known can "
        "take this setup; measuring more would settle it.",
    )
