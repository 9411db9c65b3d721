"""The attempts left on the day as an exact decision tree, solved backwards from the last attempt.

The day's best D is unknown; attempt k (0, 1, 2) with load w is made with chance 1 - slip when
D (1 - cost)^k >= w, else missed. Each result changes what is believed about D. Between any two thresholds D
makes no difference, so cells between them carry exact chances and the optimum over the grid is exact.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import log

import numpy as np
from numpy.typing import NDArray

from analysis.core.estimates.normal import normal_cdf
from analysis.core.records.estimates import Branch, DayBest
from analysis.core.settings import DEFAULTS, Settings

Array = NDArray[np.float64]
ATTEMPTS = 3
NO_CHANCE = 1e-12


@dataclass(frozen=True, slots=True)
class Result:
    """An attempt already taken."""

    load_kg: float
    made: bool


@dataclass(frozen=True, slots=True)
class Board:
    """Loads that may be called, kg ascending, what each is worth as the best, and the belief about the day.

    belief: chance of each cell of D; makes: (attempt, load, cell) chance of a make; worth: (load,) value of a
    best of that load; worth_none: value of no lift at all.
    """

    loads: Array
    belief: Array
    makes: Array
    worth: Array
    worth_none: float


def board(
    day: DayBest, loads: Sequence[float] | Array, worth: Array, worth_none: float, settings: Settings = DEFAULTS
) -> Board:
    """The board of a day's best for a grid of loads."""
    grid = np.asarray(loads, float)
    fade = (1.0 - settings["meet.attempt_cost"]) ** np.arange(ATTEMPTS)
    needed = grid / fade[:, None]
    edges = np.unique(needed)
    below = normal_cdf((np.log(edges) - log(day.median_kg)) / day.sd_log)
    belief = np.diff(np.concatenate([[0.0], below, [1.0]]))
    floor = np.concatenate([[0.0], edges])
    makes = (1.0 - settings["meet.slip"]) * (floor >= needed[..., None])
    return Board(grid, belief, makes, np.asarray(worth, float), worth_none)


@dataclass(frozen=True, slots=True)
class Spot:
    """Where the lifter stands: attempt to come, belief (unnormalised), least load index, best so far (-1: none)."""

    attempt: int
    belief: Array
    least: int
    best: int


def start(table: Board, taken: Sequence[Result] = ()) -> Spot:
    """The spot after the attempts already taken; loads taken must be on the board."""
    spot = Spot(0, table.belief, 0, -1)
    for result in taken:
        spot = after(table, spot, int(np.argmin(np.abs(table.loads - result.load_kg))), result.made)
    return spot


def after(table: Board, spot: Spot, index: int, made: bool) -> Spot:
    """The spot after one more attempt: a make asks for more next time, a miss for at least the same."""
    chance = table.makes[spot.attempt, index]
    belief = spot.belief * (chance if made else 1.0 - chance)
    return Spot(spot.attempt + 1, belief, index + made, index if made else spot.best)


def values(table: Board, spot: Spot) -> Array:
    """Value of calling each load now and going on as well as possible, times the chance of being here.

    Shape (loads,); minus infinity below the least load allowed.
    """
    if spot.attempt == ATTEMPTS - 1:
        only = (spot.belief[None, :], np.array([spot.least]), _best_worth(table, spot.best))
        return np.asarray(_last_values(table, *only)[0])
    if spot.attempt == ATTEMPTS - 2:
        return _second_values(table, spot)
    found = np.full(table.loads.size, -np.inf)
    for index in range(spot.least, table.loads.size):
        found[index] = sum(value_of(table, after(table, spot, index, made)) for made in (True, False))
    return found


def value_of(table: Board, spot: Spot) -> float:
    """Value of a spot played well, times the chance of being there; passing is always allowed."""
    stay = float(spot.belief.sum()) * float(_best_worth(table, spot.best)[0])
    if spot.attempt >= ATTEMPTS or spot.least >= table.loads.size:
        return stay
    return max(stay, float(values(table, spot).max()))


def _best_worth(table: Board, best: int) -> Array:
    return np.array([table.worth_none if best < 0 else table.worth[best]])


def _last_values(table: Board, beliefs: Array, least: NDArray[np.int64], worth_now: Array) -> Array:
    """Value of each last attempt for many beliefs at once, shape (beliefs, loads)."""
    made = beliefs @ table.makes[ATTEMPTS - 1].T
    here = beliefs.sum(axis=1, keepdims=True)
    total = made * table.worth + (here - made) * worth_now[:, None]
    return np.where(np.arange(table.loads.size) >= least[:, None], total, -np.inf)


def _second_values(table: Board, spot: Spot) -> Array:
    """Value of each second attempt, all third attempts solved at once."""
    indices = np.arange(table.loads.size)
    chance = table.makes[spot.attempt]
    total = np.zeros(indices.size)
    now = float(_best_worth(table, spot.best)[0])
    for made in (True, False):
        beliefs = spot.belief * (chance if made else 1.0 - chance)
        worth_now = table.worth if made else np.full(indices.size, now)
        stay = beliefs.sum(axis=1) * worth_now
        total += np.maximum(_last_values(table, beliefs, indices + made, worth_now).max(axis=1), stay)
    return np.where(indices >= spot.least, total, -np.inf)


def best_branch(table: Board, spot: Spot, allowed: NDArray[np.bool_] | None = None) -> Branch | None:
    """The best attempts left as a tree; `allowed` (loads,) limits the first of them. None: nothing is left."""
    here = float(spot.belief.sum())
    if spot.attempt >= ATTEMPTS or spot.least >= table.loads.size or here < NO_CHANCE:
        return None
    found = values(table, spot)
    if allowed is not None and np.any(allowed & np.isfinite(found)):
        found = np.where(allowed, found, -np.inf)
    index = int(np.argmax(np.round(found / here, 9)))  # ties go to the lower load
    chance = float(spot.belief @ table.makes[spot.attempt, index]) / here
    return Branch(
        float(table.loads[index]),
        chance,
        best_branch(table, after(table, spot, index, True)),
        best_branch(table, after(table, spot, index, False)),
    )


def fixed_branch(table: Board, spot: Spot, loads: Sequence[float]) -> Branch | None:
    """The tree of a fixed list of loads: a missed load is called again, the rest keep their order."""
    here = float(spot.belief.sum())
    if spot.attempt >= ATTEMPTS or not loads or here < NO_CHANCE:
        return None
    index = max(int(np.argmin(np.abs(table.loads - loads[0]))), spot.least)
    chance = float(spot.belief @ table.makes[spot.attempt, index]) / here
    return Branch(
        float(table.loads[index]),
        chance,
        fixed_branch(table, after(table, spot, index, True), loads[1:]),
        fixed_branch(table, after(table, spot, index, False), loads),
    )


def outcomes(branch: Branch | None, best_kg: float = 0.0) -> dict[float, float]:
    """Chance of each final best, kg (0: no lift), of a tree."""
    if branch is None:
        return {best_kg: 1.0}
    found: dict[float, float] = {}
    for share, then, kg in (
        (branch.chance, branch.if_made, branch.load_kg),
        (1.0 - branch.chance, branch.if_missed, best_kg),
    ):
        for final, chance in outcomes(then, kg).items():
            found[final] = found.get(final, 0.0) + share * chance
    return found
