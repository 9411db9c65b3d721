"""How likely a log is under each draw of the unknowns: levels, notes of where lifts stopped, grip.

Level of a kind: log-normal about the predicted best, with the model error and style factor shared as
`Problem.error_cov` says. Notes are in `notes`. Calibration throughout; no published study sorts missed pulls by joint.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from analysis.core.estimates.normal import normal_cdf
from analysis.core.weak_link.notes import CellTerms, cell_terms, notes_term
from analysis.core.weak_link.prior import UNKNOWNS, Unknowns, unknowns
from analysis.core.weak_link.problem import Condition, Problem
from analysis.core.weak_link.tabulated import BIG_KG, binding, loads

FloatArray = npt.NDArray[np.float64]

GRIP_BLUR = 0.05  # log; how sharply the grip opens before the body stops
GRIP_NOTE_ERROR = 0.06  # chance that a note on the grip is wrong (calibration)
GRIP_WRONG_SHARE = 0.15  # and this share of the lifter's own chance of a wrong note (calibration)
TIRED = (1.0, 1.0, 0.7)  # what a hard day takes from hips, legs and back, one against another (calibration)


@dataclass(frozen=True, slots=True)
class Evaluated:
    """Per draw: log-likelihood (A x N) and log best that each strength allows (A x N x K x 4)."""

    log_likelihood: FloatArray
    log_best: FloatArray


def evaluate(problem: Problem, draws: FloatArray, kinds: tuple[int, ...]) -> Evaluated:
    """Log-likelihood of every athlete's evidence under standard normal draws (athletes x draws x unknowns).

    Only `kinds` are worked out, which must hold every kind the evidence speaks of; the bests of others are NaN.
    """
    state = unknowns(problem, draws)
    log_best = np.full((*draws.shape[:2], problem.shape[1], 4), np.nan)
    cells: dict[Condition, CellTerms] = {}
    middle = _middle(problem)
    for k in kinds:
        allowed = link_allowed(problem, state, k)
        log_best[:, :, k] = log_bests(problem, state, k, allowed)
        for at in (c for c in problem.conditions if c[0] == k):
            cells[at] = condition_terms(problem, state, at, allowed, middle)
    total = notes_term(problem, problem.counts, cells, draws.shape[:2])
    total = total + grip_terms(problem, state, log_best) + level_terms(problem, log_best.min(-1))
    return Evaluated(total, log_best)


def _middle(problem: Problem) -> Unknowns:
    """The state in the middle of the prior, one draw per athlete."""
    return unknowns(problem, np.zeros((problem.shape[0], 1, UNKNOWNS)))


def condition_terms(
    problem: Problem, state: Unknowns, at: Condition, allowed: tuple[FloatArray, ...], middle: Unknowns | None = None
) -> CellTerms:
    """Chances of every note under one condition; places are held against what the prior's middle expects."""
    middle = middle or _middle(problem)
    expected = stuck_chances(problem, middle, at, link_allowed(problem, middle, at[0])).sum(2)[:, 0]
    row = problem.conditions.index(at)
    wanted = [(int(q), int(p), int(s)) for q, p, s in np.argwhere(problem.counts[:, row].any(axis=0))]
    return cell_terms(state, stuck_chances(problem, state, at, allowed), expected, wanted)


def log_bests(problem: Problem, state: Unknowns, k: int, allowed: tuple[FloatArray, ...]) -> FloatArray:
    """Log best that hips, legs, back and grip allow in kind k, athletes x draws x 4."""
    best = [np.log(binding_load(problem, load, k)) for load in allowed]
    return np.stack([*best, np.log(problem.grip_kg[:, k])[:, None] + state.log_strength[..., 3]], axis=-1)


KIND_FIELDS = ("u", "hip_gain", "hip_drop", "back_gain", "back_drop", "knee_gain", "adductor_gain", "legs_drop",
               "knee_log", "knee_sd", "knee_mix", "above")  # fmt: skip


def link_allowed(problem: Problem, state: Unknowns, k: int) -> tuple[FloatArray, ...]:
    """Load that hips, legs and back allow at each height of kind k, kg, athletes x draws x heights."""
    kind = {name: getattr(problem, name)[:, k] for name in KIND_FIELDS}
    return loads(kind, np.exp(state.log_strength), state.shape)


def binding_load(problem: Problem, allowed: FloatArray, k: int) -> FloatArray:
    """Largest load W with min(W, load in the hands at that height) <= allowed at every height."""
    return binding(allowed, problem.bend[:, k][:, None])


def stuck_chances(problem: Problem, state: Unknowns, at: Condition, allowed: tuple[FloatArray, ...]) -> FloatArray:
    """Chance that a miss stops at each position by each link: athletes x draws x 3 links x positions.

    Softmax of utilisation (load / allowed) over metres of height and links; a height that a bending bar relieves
    counts by the load that the hands hold there. Tired links allow less; a load over the level is partly the day's
    strength, and the more of it there is the less sharply the place is told. No wrong notes yet.
    """
    k, fatigue, excess = at
    if fatigue:
        tired = fatigue * state.fatigue[..., None]
        allowed = tuple(load * (1.0 - np.minimum(part * tired, 0.5)) for load, part in zip(allowed, TIRED, strict=True))
    hips, legs, back = (binding_load(problem, load, k) for load in allowed)
    load = (np.minimum(np.minimum(hips, legs), back) * np.exp(excess))[..., None]
    if problem.bend[:, k].min() < BIG_KG:
        load = np.minimum(load, problem.bend[:, k][:, None])
    stops = np.ascontiguousarray(problem.stops[:, k].transpose(0, 2, 1))
    stuck = np.stack([stops @ np.swapaxes(_pressed(load, a, state.sharpness), 1, 2) for a in allowed], axis=1)
    stuck /= stuck.sum(axis=(1, 2), keepdims=True)
    return np.moveaxis(stuck, 3, 1)


def _pressed(load: FloatArray, allowed: FloatArray, sharpness: FloatArray) -> FloatArray:
    """exp(sharpness (utilisation - 1)) over the heights."""
    pressed = load / allowed
    pressed -= 1.0
    pressed *= sharpness[..., None]
    return np.asarray(np.exp(pressed, out=pressed))


def grip_chance(log_best: FloatArray, wrong_note: FloatArray) -> FloatArray:
    """Chance that the grip opens before the body stops, from the last axis of log bests (hips, legs, back, grip)."""
    margin = (log_best[..., :3].min(-1) - log_best[..., 3]) / GRIP_BLUR
    error = GRIP_NOTE_ERROR + GRIP_WRONG_SHARE * wrong_note
    return np.asarray(error + (1.0 - 2.0 * error) * normal_cdf(margin))


def grip_terms(problem: Problem, state: Unknowns, log_best: FloatArray) -> FloatArray:
    """Log-likelihood of grips that opened or held in misses, athletes x draws."""
    total = np.zeros(log_best.shape[:2])
    for k in np.flatnonzero((problem.grip_opened + problem.grip_held).any(axis=0)):
        opens = grip_chance(log_best[:, :, k], state.wrong_note)
        opened, held = problem.grip_opened[:, k, None], problem.grip_held[:, k, None]
        total += opened * np.log(opens) + held * np.log1p(-opens)
    return total


def level_terms(problem: Problem, log_best: FloatArray) -> FloatArray:
    """Log-likelihood (up to a constant) of the running bests, athletes x draws."""
    gap = np.where(np.isfinite(problem.level_var)[:, None], problem.level[:, None] - log_best, 0.0)
    return np.asarray(-0.5 * ((gap @ problem.precision) * gap).sum(-1))
