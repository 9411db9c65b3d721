"""How distance and angles change from a narrow stance to the widest this body reaches."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np
import numpy.typing as npt

from analysis.core.body import constants as c
from analysis.core.body.anthropometry import drawn_bodies
from analysis.core.body.body import Body
from analysis.core.leverages.style_reports import (
    LIFT_OFF,
    LOCKOUT,
    bar_rise,
    events_of,
    moments_in,
    quantities,
    ranged_all,
)
from analysis.core.pull.habits import MEAN_STANCES
from analysis.core.pull.pull import postures_at, problem_of, rig_of
from analysis.core.pull.setups import Setups, drawn_setups, filled_setup, setup_arrays, usual_stances
from analysis.core.records.bodies import BodyInput
from analysis.core.records.plain import ImpossibleStance
from analysis.core.records.postures import HABITS
from analysis.core.records.pulls import Estimate, Setup, SetupInput, SweepReport

FloatArray = npt.NDArray[np.float64]
NARROWEST_M = 0.10
WIDEST_TRIED_M = 1.60
_TURNOUTS = (c.CONVENTIONAL_TURNOUT_RAD, c.SUMO_TURNOUT_RAD, c.WIDE_TURNOUT_RAD)
_TURNOUT_SDS = (c.CONVENTIONAL_TURNOUT_SD_RAD, c.SUMO_TURNOUT_SD_RAD, c.SUMO_TURNOUT_SD_RAD)
_HANDS = (c.CONVENTIONAL_HANDS_M, c.SUMO_HANDS_M, c.SUMO_HANDS_M)


def with_stance(asked: SetupInput, stance_m: float, usual: Mapping[str, float] = MEAN_STANCES) -> SetupInput:
    """The setup at another stance; turnout and hands follow the stance as from conventional to wide sumo.

    `usual` are people's stances (m) for this body. What was asked for in so many words (not None) is kept. A lifter's
    own turnout turns as much further.
    """
    turnout, hands, own = asked.turnout_rad, asked.hand_spacing_m, asked.own
    if turnout is None:
        turnout = _following(stance_m, usual, _TURNOUTS)
        if own is not None:
            turnout += own.value("turnout_rad") - _following(own.value("stance_m"), usual, _TURNOUTS)
            turnout = max(turnout, 0.0)
    return replace(
        asked,
        stance_m=stance_m,
        turnout_rad=turnout,
        hand_spacing_m=_following(stance_m, usual, _HANDS) if hands is None else hands,
    )


def _following(stance_m: float, usual: Mapping[str, float], values: tuple[float, float, float]) -> float:
    stances = [usual[style] for style in ("conventional", "sumo", "wide-sumo")]
    return float(np.interp(stance_m, stances, values))


def _filled(asked: SetupInput, stance_m: float, usual: Mapping[str, float]) -> Setup:
    """The setup at a stance that is exact; a turnout that only follows the stance keeps its spread."""
    setup = filled_setup(with_stance(asked, stance_m, usual), usual)
    if asked.turnout_rad is not None:
        return setup
    at = HABITS.index("turnout_rad")
    covariance = np.array(setup.covariance)
    spread = asked.own.sd("turnout_rad") if asked.own else _following(stance_m, usual, _TURNOUT_SDS)
    covariance[at, at] = spread**2
    return replace(setup, covariance=tuple(map(tuple, covariance.tolist())))


def _possible(body: Body, asked: SetupInput, stances: FloatArray, load_kg: float) -> npt.NDArray[np.bool_]:
    usual = usual_stances(body)
    setups = [_filled(asked, float(stance), usual) for stance in stances]
    r = rig_of(body, setup_arrays(setups))
    start = r.setups.start_height + bar_rise(setups[0], load_kg)
    with np.errstate(invalid="ignore"):
        z = start + (r.lockout_z - start) * np.linspace(0.0, 1.0, 21)
        z[..., -1:] = r.lockout_z
    return np.asarray(problem_of(r, postures_at(r, z))[0] == 0)


def widest_stance(body: Body, asked: SetupInput, load_kg: float) -> float:
    """Widest stance (m, to a millimetre) that the first of the bodies takes all the way from a possible one on."""
    tried = np.linspace(NARROWEST_M, WIDEST_TRIED_M, 76)
    fits = _possible(body, asked, tried, load_kg)
    if not fits.any():
        raise ImpossibleStance("stance", "no stance lets this body take the bar at this height")
    first = int(np.argmax(fits))
    gone = np.flatnonzero(~fits[first:])
    if gone.size == 0:
        return WIDEST_TRIED_M
    edge = np.arange(tried[first + gone[0] - 1], tried[first + gone[0]], 0.001)
    fine = _possible(body, asked, edge, load_kg)
    return float(edge[int(np.flatnonzero(fine)[-1])])


def narrowest_stance(body: Body, asked: SetupInput, load_kg: float) -> float:
    """Narrowest stance (m) tried that the first of the bodies takes."""
    tried = np.linspace(NARROWEST_M, WIDEST_TRIED_M, 76)
    return float(tried[int(np.argmax(_possible(body, asked, tried, load_kg)))])


def stance_sweep(
    lifter_body: BodyInput,
    base_setup: SetupInput | None = None,
    n: int = 25,
    load_kg: float = 200.0,
    draws: int = 200,
    seed: int = 0,
    push: float = c.DEFAULT_PUSH,
) -> SweepReport:
    """`n` stances from narrow to the widest reachable, and at each the ranges of what the lift-off asks.

    Turnout and hand spacing follow the stance unless the base setup fixes them. Raises ImpossibleStance when no
    stance is possible.
    """
    asked = base_setup or SetupInput()
    bodies = drawn_bodies(lifter_body, draws, seed)
    one = bodies.rows(slice(0, 1))
    widest = widest_stance(one, asked, load_kg)
    stances = np.linspace(narrowest_stance(one, asked, load_kg), widest, n)
    usual = usual_stances(one)
    setups = [_filled(asked, float(stance), usual) for stance in stances]
    values = _swept(bodies, setups, drawn_setups(setups, bodies, seed), load_kg, push)
    return SweepReport(filled_setup(asked, usual), tuple(map(float, stances)), widest, values)


def _swept(
    bodies: Body, setups: list[Setup], arrays: Setups, load_kg: float, push: float
) -> dict[str, tuple[Estimate, ...]]:
    r, events, _ = events_of(bodies, setups, arrays, load_kg)
    found = quantities(events, moments_in(r, events, push), load_kg)
    start = arrays.start_height
    found["lockout_height_m"] = np.broadcast_to(events.z[:, :, LOCKOUT, None], events.z.shape)
    found["range_of_motion_m"] = found["lockout_height_m"] - start[..., None]

    def at_lift_off(at: int) -> dict[str, Estimate]:
        return ranged_all(found, lambda array: array[:, at, LIFT_OFF])

    columns = [at_lift_off(at) for at in range(len(setups))]
    return {key: tuple(column[key] for column in columns) for key in found}
