"""Random lifters on a stiff and a flexible bar: drawn bodies of both sexes, drawn strengths, three ways to pull."""

from dataclasses import dataclass

import numpy as np

from analysis.core.body.anthropometry import population_bodies
from analysis.core.body.body import joined
from analysis.core.pull.bar import BAR_PRESETS
from analysis.core.pull.setups import filled_setup, setup_arrays
from analysis.core.records.pulls import SetupInput
from analysis.core.strength.bending import best_on_bar
from analysis.core.strength.limits import allowed_by_strength
from analysis.core.strength.pull_demand import fully_possible, pull_demands
from analysis.core.training.bar_gain import strength_draws

STYLES = ("conventional", "sumo", "rounded")


@dataclass
class Gains:
    """One way to pull: best on the stiff bar, kg; gain of the flexible one, share; where the pull sticks, share."""

    best: np.ndarray
    gain: np.ndarray
    stick: np.ndarray
    possible: np.ndarray


def flexible_gains(of_each_sex: int, seed: int = 0) -> dict[str, Gains]:
    bodies = joined([population_bodies(sex, of_each_sex, seed) for sex in "mf"])
    setups = [filled_setup(SetupInput(preset=style)) for style in STYLES]
    demands = pull_demands(bodies, setup_arrays(setups, bodies))
    possible = fully_possible(demands)
    strengths = strength_draws((), len(bodies), seed)
    found = {}
    for i, setup in enumerate(setups):
        a, b, capacity, z = (x[:, i] for x in (demands.a, demands.b, demands.capacity, demands.z))
        allowed = allowed_by_strength(a, b, capacity, strengths).min(axis=-2)
        stiff, flexible = (
            np.array([_best(allowed[n], z[n], setup.hand_spacing_m, bar, possible[n, i]) for n in range(len(bodies))])
            for bar in ("stiff", "flexible")
        )
        stick = demands.u[np.arange(len(bodies)), i, allowed.argmin(axis=-1)]
        found[setup.name] = Gains(stiff, flexible / stiff - 1.0, stick, possible[:, i])
    return found


def _best(allowed, z, hands_m, bar, possible):
    return best_on_bar(allowed[None], z, hands_m, BAR_PRESETS[bar])[0] if possible else 1.0
