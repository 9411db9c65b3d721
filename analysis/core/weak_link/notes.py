"""How likely what was noted of a lifter's misses is: places, signs, and the habits of who wrote them down.

One note: the chance of its place from the mechanics, with wrong notes counted in, and a table of chances of the sign
given link and place (common practice, no source). Notes of one lifter share an error: with chance HABIT_PLACES the
places where he stops are a habit that says nothing of strength, with chance HABIT_SIGNS the same for what was seen.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import lgamma, log

import numpy as np
import numpy.typing as npt

from analysis.core.records.terms import MISS_POSITIONS
from analysis.core.weak_link.prior import Unknowns
from analysis.core.weak_link.problem import (
    ALIKE,
    HABIT_CONCENTRATION,
    MADE_HEAVY,
    NOT_NOTED,
    NOT_PLACED,
    SIGNS,
    Condition,
    Problem,
    worth,
)

FloatArray = npt.NDArray[np.float64]
Cell = tuple[int, int, int]  # quality, position, sign

MADE_HEAVY_NOISE = 0.4  # calibration: a made lift's slowest height tells this much less
HABIT_PLACES = 0.6  # chance that a lifter's places are a habit (calibration)
HABIT_SIGNS = 0.3  # the same for what was seen (calibration)
ONE_PLACE, ALL_PLACES = 5.0, 25.0  # most by which one note's place, and all of a lifter's, move the odds of two states

# links that usually show each sign (common practice, no source); None = says no more than the position does
USUAL_LINK: dict[str, int | None] = {
    "never-moved": None,
    "slowed-stopped": 0,
    "hips-shot-up": 1,
    "back-rounded": 2,
    "straight-but-round": 2,
}
_POSSIBLE = {
    "floor": ("never-moved", "slowed-stopped", "back-rounded", "hips-shot-up"),
    "mid-shin": ("slowed-stopped", "back-rounded", "hips-shot-up"),
    "below-knee": ("slowed-stopped", "back-rounded", "hips-shot-up"),
    "at-knee": ("slowed-stopped", "back-rounded", "hips-shot-up"),
    "mid-thigh": ("slowed-stopped", "back-rounded", "straight-but-round"),
    "lockout": ("slowed-stopped", "back-rounded", "straight-but-round"),
}
_NEVER_MOVED = 0.5  # of lifts that stop at the start, whatever the link
_STRAY = 0.02  # a sign that the position rules out was noted all the same


def _seen_tables() -> tuple[FloatArray, FloatArray]:
    """Chance of a sign by link and position when it points to its link, and when it points nowhere."""
    own = np.full((3, len(MISS_POSITIONS), len(SIGNS)), _STRAY)
    plain = np.full((len(MISS_POSITIONS), len(SIGNS)), _STRAY)
    for p, position in enumerate(MISS_POSITIONS):
        telling = [s for s in _POSSIBLE[position] if s != "never-moved"]
        rest = 1.0 - (_NEVER_MOVED if position == "floor" else 0.0)
        for sign in telling:
            plain[p, SIGNS.index(sign)] += rest / len(telling)
        for link in range(3):
            shows = [s for s in telling if USUAL_LINK[s] == link] or telling
            for sign in shows:
                own[link, p, SIGNS.index(sign)] += rest / len(shows)
        if position == "floor":
            own[:, p, 0] += _NEVER_MOVED
            plain[p, 0] += _NEVER_MOVED
    return own / own.sum(-1, keepdims=True), plain / plain.sum(-1, keepdims=True)


SEEN_OWN, SEEN_PLAIN = _seen_tables()


@dataclass(frozen=True, slots=True)
class CellTerms:
    """Log chances per cell, athletes x draws: sign given the place, place (held to its cap), sign whatever the place.

    `expected` is the log chance of the place that its cap is laid about, athletes.
    """

    sign: Mapping[Cell, FloatArray]
    place: Mapping[Cell, FloatArray]
    sign_alone: Mapping[Cell, FloatArray]
    expected: Mapping[Cell, FloatArray]


def cell_terms(state: Unknowns, stuck: FloatArray, expected: FloatArray, cells: Sequence[Cell]) -> CellTerms:
    """Terms of the cells asked for; `stuck` is athletes x draws x 3 x positions, `expected` athletes x positions."""
    sign, place, alone, centre = {}, {}, {}, {}
    for cell in cells:
        whole, here, by_sign = cell_chances(state, stuck, *cell)
        sign[cell], alone[cell] = np.log(whole / here), np.log(by_sign)
        if cell[1] == NOT_PLACED:
            centre[cell], place[cell] = np.zeros(len(expected)), np.zeros(here.shape)
            continue
        centre[cell] = np.log(0.5 * expected[:, cell[1]] + 0.5 / len(MISS_POSITIONS))
        half = 0.5 * log(ONE_PLACE)
        place[cell] = np.clip(np.log(here), centre[cell][:, None] - half, centre[cell][:, None] + half)
    return CellTerms(sign, place, alone, centre)


def cell_chances(
    state: Unknowns, stuck: FloatArray, quality: int, position: int, sign: int
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Chance of a note, of its place alone and of its sign when the place says nothing, athletes x draws."""
    wrong, sure = state.wrong_note, state.seen_strength
    if quality == MADE_HEAVY:
        wrong = wrong + (1.0 - wrong) * MADE_HEAVY_NOISE
        sure = sure * (1.0 - MADE_HEAVY_NOISE)
    links = stuck.sum(-1)
    if position == NOT_PLACED:
        told = np.einsum("anlp,lp->an", stuck, SEEN_OWN[:, :, sign])
        plain = stuck.sum(2) @ SEEN_PLAIN[:, sign]
        only = sure * told + (1.0 - sure) * plain
        return only, np.ones_like(only), only
    here = (1.0 - wrong)[..., None] * stuck[..., position] + (wrong / len(MISS_POSITIONS))[..., None] * links
    place = here.sum(-1)
    if sign == NOT_NOTED:
        return place, place, np.ones_like(place)
    own, plain = SEEN_OWN[:, position, sign], float(SEEN_PLAIN[position, sign])
    whole = sure * (here @ own) + (1.0 - sure) * plain * place
    return whole, place, sure * (links @ own) + (1.0 - sure) * plain


def notes_term(
    problem: Problem, counts: FloatArray, cells: Mapping[Condition, CellTerms], shape: tuple[int, ...]
) -> FloatArray:
    """Log-likelihood of all notes, athletes x draws; `counts` are the problem's or some of them (athletes x ...).

    A mixture over what is a habit; the places together move the odds of two states by ALL_PLACES at most.
    """
    sign, place, alone = np.zeros(shape), np.zeros(shape), np.zeros(shape)
    centre = np.zeros((shape[0], 1))
    for row, at in enumerate(problem.conditions):
        for q, p, s in np.argwhere(counts[:, row].any(axis=0)):
            cell, number = (int(q), int(p), int(s)), counts[:, row, q, p, s][:, None]
            sign += number * cells[at].sign[cell]
            place += number * cells[at].place[cell]
            alone += number * cells[at].sign_alone[cell]
            centre += number * cells[at].expected[cell][:, None]
    half = 0.5 * log(ALL_PLACES)
    place = np.clip(place, centre - half, centre + half)
    numbers = counts.sum(axis=(1, 2))  # athletes x places x signs
    habit_place = _habit(numbers.sum(2)[:, :NOT_PLACED])
    habit_sign = _habit(numbers.sum(1)[:, :NOT_NOTED])
    mix = log(1.0 - HABIT_PLACES), log(HABIT_PLACES), log(1.0 - HABIT_SIGNS), log(HABIT_SIGNS)
    strength = np.logaddexp(mix[2] + sign, mix[3] + habit_sign) + mix[0] + place
    no_places = np.logaddexp(mix[2] + alone, mix[3] + habit_sign)
    told = np.logaddexp(strength, mix[1] + habit_place + no_places) - no_places
    usual = np.logaddexp(mix[0] + centre, mix[1] + habit_place)
    total = no_places + np.clip(told, usual - half, usual + half)
    each = np.array([worth(n, ALIKE) for n in numbers.sum(axis=(1, 2))])
    return np.asarray(each[:, None] * total)


def _habit(numbers: FloatArray) -> FloatArray:
    """Log chance of what was noted (athletes x classes) under a habit: Dirichlet-multinomial, athletes x 1."""
    classes = numbers.shape[1]
    rows = []
    for row in numbers:
        whole = classes * HABIT_CONCENTRATION
        found = lgamma(whole) - lgamma(whole + row.sum())
        rows.append(found + sum(lgamma(n + HABIT_CONCENTRATION) - lgamma(HABIT_CONCENTRATION) for n in row if n))
    return np.array(rows)[:, None]


def single_chance(state: Unknowns, stuck: FloatArray, cell: Cell) -> FloatArray:
    """Chance of one note on its own, habits counted in, athletes x draws."""
    whole, place, alone = cell_chances(state, stuck, *cell)
    a, b, places, signs = HABIT_PLACES, HABIT_SIGNS, len(MISS_POSITIONS), len(SIGNS)
    told = (1.0 - a) * (1.0 - b) * whole + a * (1.0 - b) * alone / places
    return np.asarray(told + (1.0 - a) * b * place / signs + a * b / (places * signs))
