"""A population of trained lifters drawn from the reference tables and the prior of strengths."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from analysis.core.body.anthropometry import population_bodies
from analysis.core.pull.setups import filled_setup, setup_arrays
from analysis.core.records.pulls import SetupInput
from analysis.core.strength import constants as c
from analysis.core.strength.demand_table import strength_prior
from analysis.core.strength.limits import allowed_by_strength
from analysis.core.strength.pull_demand import fully_possible, pull_demands
from analysis.core.strength.squat import squat_demands

SETUPS = {
    "conventional": SetupInput("conventional"),
    "sumo": SetupInput("sumo"),
    "wide-sumo": SetupInput("wide-sumo"),
    "rounded": SetupInput("rounded"),
    "block": SetupInput("conventional", start_offset_m=0.25),
    "deficit": SetupInput("conventional", start_offset_m=-0.05),
}
FACTORS = {"sumo": c.SUMO_MEAN, "wide-sumo": c.WIDE_MEAN, "deficit": -0.05 * c.DEFICIT_LOSS}


@dataclass(frozen=True, slots=True)
class Population:
    """Lifters of one sex: bests in kg by kind (NaN = this body cannot), limiter (0 hips, 1 legs, 2 back), share u."""

    mass: np.ndarray
    strengths: np.ndarray
    best: dict[str, np.ndarray]
    limiter: dict[str, np.ndarray]
    where: dict[str, np.ndarray]


def population(sex: str, count: int, seed: int = 1) -> Population:
    """`count` lifters with every kind of SETUPS and both squats; style factors at their means."""
    body = population_bodies(sex, count, seed)
    prior = strength_prior()
    rng = np.random.default_rng(seed + 100)
    root = np.linalg.cholesky(prior.correlation)
    strengths = np.exp(prior.log_mean + (rng.standard_normal((count, 4)) @ root.T) * prior.log_sd)
    setups = setup_arrays([filled_setup(s) for s in SETUPS.values()], body)
    found = pull_demands(body, setups)
    possible = fully_possible(found)
    best, limiter, where = {}, {}, {}
    for k, name in enumerate(SETUPS):
        allowed = allowed_by_strength(found.a[:, k], found.b[:, k], found.capacity[:, k], strengths)
        _keep(name, allowed, found.u[:, k], possible[:, k], best, limiter, where)
        best[name] = best[name] * np.exp(FACTORS.get(name, 0.0))
    for name in ("squat", "front-squat"):
        squat = squat_demands(body, name == "front-squat")
        allowed = allowed_by_strength(squat.a[:, 0], squat.b[:, 0], squat.capacity[:, 0], strengths)
        _keep(name, allowed, squat.u[:, 0], np.ones(count, bool), best, limiter, where)
    return Population(body.mass, strengths, best, limiter, where)


def _keep(name, allowed, u, possible, best, limiter, where) -> None:
    least = allowed.min(-1)
    link = least.argmin(-1)
    place = np.take_along_axis(allowed.argmin(-1), link[:, None], -1)[:, 0]
    best[name] = np.where(possible, least.min(-1), np.nan)
    limiter[name] = np.where(possible, link, -1)
    where[name] = np.where(possible, np.take_along_axis(u, place[:, None], -1)[:, 0], np.nan)


def ranks(values: np.ndarray) -> np.ndarray:
    return np.argsort(np.argsort(values))


def gate_numbers(count: int, seed: int = 1, style_sd: float = c.STYLE_SD) -> dict[str, float]:
    """Sumo over conventional of `count` trained lifters, half of each sex, with every lifter's own style factor."""
    groups = [population(sex, count // 2, seed + place) for place, sex in enumerate("mf")]
    ratio = np.concatenate([g.best["sumo"] / g.best["conventional"] for g in groups])
    share = np.concatenate([g.strengths[:, 1] / g.strengths[:, 2] for g in groups])
    ratio = ratio * np.exp(style_sd * np.random.default_rng(seed + 50).standard_normal(len(ratio)))
    kept = np.isfinite(ratio)
    low, middle, high = np.quantile(ratio[kept], (0.1, 0.5, 0.9))
    correlation = np.corrcoef(ranks(ratio[kept]), ranks(share[kept]))[0, 1]
    return {
        "median": float(middle),
        "tenth": float(low),
        "ninetieth": float(high),
        "rank_correlation": float(correlation),
        "lifters": float(kept.sum()),
    }
