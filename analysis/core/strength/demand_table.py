"""One athlete's demand table: from a measured body and the kinds of lift that were logged or are asked about."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from analysis.core.body import constants as mc
from analysis.core.body.anthropometry import drawn_bodies
from analysis.core.body.body import Body
from analysis.core.pull.bar import BAR_PRESETS, rise_of_hands
from analysis.core.pull.pull import impossible
from analysis.core.pull.setups import filled_setup, setup_arrays, usual_stances
from analysis.core.records.bodies import BodyInput
from analysis.core.records.demands import DemandTable, KindDemand, StrengthPrior
from analysis.core.records.plain import ImpossibleStance, UnknownKey
from analysis.core.records.postures import OwnPosture
from analysis.core.records.pulls import Setup, SetupInput
from analysis.core.strength import constants as c
from analysis.core.strength.limits import allowed_by_strength, best_of
from analysis.core.strength.pull_demand import PUSH, Demands, fully_possible, pull_demands
from analysis.core.strength.reference import grip_reference
from analysis.core.strength.squat import squat_demands

FloatArray = npt.NDArray[np.float64]
DRAWS = 12
PRIOR_MEAN = np.log([c.HIP_MULTIPLIER, c.LEGS_MULTIPLIER, c.BACK_MULTIPLIER, c.GRIP_MULTIPLIER])
_STYLE = {
    "conventional": (0.0, 0.0),
    "sumo": (c.SUMO_MEAN, c.STYLE_SD),
    "wide-sumo": (c.WIDE_MEAN, c.STYLE_SD),
    "squat": (c.SQUAT_MEAN, c.SQUAT_SD),
}
_SPINE = {"rounded-before": mc.ROUNDED_SPINE_RAD, "rounded-during": mc.ROUNDED_SPINE_RAD}
_AT_START = {"rounded-during": mc.FLAT_SPINE_RAD}


@dataclass(frozen=True, slots=True)
class KindAsked:
    """A kind of lift to tabulate: lift "deadlift", "squat" or "front-squat", with the tags that matter to statics."""

    key: str
    lift: str = "deadlift"
    style: str = "conventional"
    shape: str = "unseen"
    start_offset_m: float = 0.0
    disc_diameter_m: float = 0.45
    bar: str = "unknown"
    grip: str = "unknown"
    straps: bool = False
    stance_m: float | None = None
    own: OwnPosture | None = None


def strength_prior(correlation: float = 0.6) -> StrengthPrior:
    """Log-normal prior of hips, legs, back and grip; `correlation` among the first three."""
    matrix = np.full((4, 4), correlation)
    matrix[3, :] = matrix[:, 3] = min(c.GRIP_CORRELATION, correlation)
    np.fill_diagonal(matrix, 1.0)
    return StrengthPrior(PRIOR_MEAN, np.array([c.MULTIPLIER_SD] * 3 + [c.GRIP_SD]), matrix)


def demand_table(
    body: BodyInput, asked: Sequence[KindAsked], correlation: float = 0.6, draws: int = DRAWS
) -> DemandTable:
    """The table of all kinds asked for; ImpossibleStance when this body cannot take a setup."""
    return DemandTable(tuple(kind_demands(drawn_bodies(body, draws), body.age, asked)), strength_prior(correlation))


def kind_demands(bodies: Body, age: float | None, asked: Sequence[KindAsked]) -> list[KindDemand]:
    """Kinds for the first body; the further ones only say how far the best moves with the body."""
    pulls = [k for k in asked if k.lift == "deadlift"]
    done: dict[str, KindDemand] = {}
    if pulls:
        stances = usual_stances(bodies)
        setups = [setup_of(k, stances) for k in pulls]
        demands = pull_demands(bodies, setup_arrays(setups, bodies), age)
        for place, (kind, setup) in enumerate(zip(pulls, setups, strict=True)):
            done[kind.key] = _pull_kind(kind, setup, bodies, demands, place)
    for kind in asked:
        if kind.lift in ("squat", "front-squat"):
            done[kind.key] = _squat_kind(kind, bodies, age)
        elif kind.lift != "deadlift":
            raise UnknownKey("lift", f"{kind.lift!r} has no demand table")
    return [done[k.key] for k in asked]


def setup_of(kind: KindAsked, stances: Mapping[str, float] | None = None) -> Setup:
    """The mechanics' setup of a kind of pull; `stances` are people's for this body, where the own is not known."""
    return filled_setup(
        SetupInput(
            preset=kind.style,
            start_offset_m=kind.start_offset_m,
            disc_diameter_m=kind.disc_diameter_m,
            spinal_flexion_rad=_SPINE.get(kind.shape),
            flexion_at_start_rad=_AT_START.get(kind.shape),
            stance_m=kind.stance_m,
            bar=kind.bar if kind.bar in BAR_PRESETS else "unknown",
            own=kind.own,
        ),
        stances,
    )


def _pull_kind(kind: KindAsked, setup: Setup, bodies: Body, demands: Demands, place: int) -> KindDemand:
    if demands.problem[0, place]:
        raise impossible(int(demands.problem[0, place]), setup.stance_m)
    if not demands.valid[0, place].all():
        raise ImpossibleStance("posture", f"{setup.name} cannot be held at every height")
    mean, sd = _STYLE[kind.style]
    possible = fully_possible(demands)[:, place]
    return KindDemand(
        key=kind.key,
        lift="deadlift",
        style=kind.style,
        family=kind.style,
        start_offset_m=kind.start_offset_m,
        z=demands.z[0, place],
        u=demands.u[0, place],
        push=PUSH,
        a=demands.a[0, place],
        b=demands.b[0, place],
        capacity=demands.capacity[0, place],
        valid=demands.valid[0, place],
        knee_z=float(demands.knee_z[0, place]),
        bend_kg=bend_load(setup, float(bodies.mass[0]), demands.z[0, place]),
        grip_kg=float(grip_reference(bodies, kind.grip, kind.straps)[0]),
        style_mean=mean - c.DEFICIT_LOSS * max(-kind.start_offset_m, 0.0),
        style_sd=sd,
        body_sd=_body_sd(demands, place, possible),
    )


def _squat_kind(kind: KindAsked, bodies: Body, age: float | None) -> KindDemand:
    demands = squat_demands(bodies, kind.lift == "front-squat", age)
    mean, sd = _STYLE["squat"]
    return KindDemand(
        key=kind.key,
        lift=kind.lift,
        style="",
        family="squat",
        start_offset_m=0.0,
        z=demands.z[0, 0],
        u=demands.u[0, 0],
        push=PUSH,
        a=demands.a[0, 0],
        b=demands.b[0, 0],
        capacity=demands.capacity[0, 0],
        valid=demands.valid[0, 0],
        knee_z=float(demands.knee_z[0, 0]),
        bend_kg=np.full(demands.z.shape[-1], np.inf),
        grip_kg=float("inf"),
        style_mean=mean,
        style_sd=sd,
        body_sd=_body_sd(demands, 0, np.ones(len(bodies), bool)),
    )


def _body_sd(demands: Demands, place: int, possible: npt.NDArray[np.bool_]) -> float:
    """SD (log) of the best at the prior's strengths over the draws of the body."""
    if possible.sum() < 4:
        return 0.0
    strength = np.exp(PRIOR_MEAN[:3])
    a, b, capacity = (x[possible, place] for x in (demands.a, demands.b, demands.capacity))
    every = np.broadcast_to(strength, (int(possible.sum()), 3))
    best = allowed_by_strength(a, b, capacity, every).min(axis=(-1, -2))
    return float(np.std(np.log(np.maximum(best, 1.0))))


def bend_load(setup: Setup, mass: float, z: FloatArray) -> FloatArray:
    """Load (kg) that the bending bar has put into the hands at each height; inf for a bar that does not bend.

    Its stiffness is taken once, at a usual load for this body mass.
    """
    if not setup.bar_bends:
        return np.full_like(z, np.inf)
    load = c.NOMINAL_LOAD * mass
    rise = rise_of_hands(load, setup.hand_spacing_m, setup.bar_diameter_m, setup.bar_span_m)
    return np.asarray((z - z[0]) * load / rise)


def predicted_bests(table: DemandTable, multipliers: FloatArray) -> FloatArray:
    """Best of every kind, kg, for multipliers (..., 4) of hips, legs, back and grip; style factor at its mean."""
    bests = []
    for kind in table.kinds:
        allowed = allowed_by_strength(kind.a, kind.b, kind.capacity, multipliers[..., :3])
        strength = best_of(allowed, kind.bend_kg).min(axis=-1)
        held = kind.grip_kg * multipliers[..., 3]
        bests.append(np.minimum(strength * np.exp(kind.style_mean), held))
    return np.stack(bests, axis=-1)
