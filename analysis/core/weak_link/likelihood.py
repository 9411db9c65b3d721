"""How likely a log is under each draw of the unknowns: levels, where lifts stopped, what was seen, grip.

Level of a kind: log-normal about the predicted best, with the model error and style factor shared as
`Problem.error_cov` says. Position: softmax of utilisation over heights and links, blurred, with a floor for a wrong
note. What was seen: a table of chances given the link and the position. Common practice and calibration throughout;
no published study sorts missed pulls by joint.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from analysis.core.estimates.normal import normal_cdf
from analysis.core.records.terms import MISS_POSITIONS
from analysis.core.weak_link.prior import SLOPE_CENTRE, Unknowns, unknowns
from analysis.core.weak_link.problem import LEGS_HIGH, LEGS_LOW, LEGS_STEPS, MADE_HEAVY, NOT_NOTED, SIGNS, Problem

FloatArray = npt.NDArray[np.float64]

MADE_HEAVY_NOISE = 0.4  # calibration: a made lift's slowest height tells this much less
GRIP_BLUR = 0.05  # log; how sharply the grip opens before the body stops
GRIP_NOTE_ERROR = 0.03

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
    total = np.zeros(draws.shape[:2])
    for k in kinds:
        allowed = link_allowed(problem, state, k)
        log_best[:, :, k] = log_bests(problem, state, k, allowed)
        if problem.counts[:, k].any():
            total += stuck_terms(problem, state, k, allowed, np.exp(log_best[:, :, k, :3].min(-1)))
    total += grip_terms(problem, log_best) + level_terms(problem, log_best.min(-1))
    return Evaluated(total, log_best)


def log_bests(problem: Problem, state: Unknowns, k: int, allowed: tuple[FloatArray, ...]) -> FloatArray:
    """Log best that hips, legs, back and grip allow in kind k, athletes x draws x 4."""
    best = [np.log(binding_load(problem, load, k)) for load in allowed]
    return np.stack([*best, np.log(problem.grip_kg[:, k])[:, None] + state.log_strength[..., 3]], axis=-1)


def link_allowed(problem: Problem, state: Unknowns, k: int) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Load that hips, legs and back allow at each height of kind k, kg, athletes x draws x heights."""
    lever = (problem.u[:, k] - SLOPE_CENTRE)[:, None]
    strength = np.exp(state.log_strength)

    def straight(link: int, gain: FloatArray, drop: FloatArray, slope: int) -> FloatArray:
        shaped = strength[..., link, None] * (1.0 + state.slope[..., slope, None] * lever)
        return np.maximum(shaped * gain[:, k][:, None] - drop[:, k][:, None], 1.0)

    hips = straight(0, problem.hip_gain, problem.hip_drop, 0)
    back = straight(2, problem.back_gain, problem.back_drop, 2)
    return hips, _legs(problem, state, k, lever), back


def _legs(problem: Problem, state: Unknowns, k: int, lever: FloatArray) -> FloatArray:
    """The tabulated legs at each draw's multiplier and slope, linear between the grid's steps."""
    shaped = state.log_strength[..., 1, None] + state.slope[..., 1, None] * lever
    step = (shaped - LEGS_LOW) * ((LEGS_STEPS - 1) / (LEGS_HIGH - LEGS_LOW))
    step = np.clip(step, 0.0, LEGS_STEPS - 1.001)
    low = step.astype(np.int64)
    share = step - low
    athletes, _, heights = shaped.shape
    flat = problem.legs[:, k].reshape(-1)
    place = (np.arange(athletes)[:, None, None] * LEGS_STEPS + low) * heights + np.arange(heights)
    return np.asarray(np.maximum(flat[place] * (1.0 - share) + flat[place + heights] * share, 1.0))


def binding_load(problem: Problem, allowed: FloatArray, k: int) -> FloatArray:
    """Largest load W with min(W, load in the hands at that height) <= allowed at every height."""
    bend = problem.bend[:, k][:, None]
    return np.asarray(np.where(allowed >= bend, np.inf, allowed).min(axis=-1).clip(max=1e5))


def stuck_chances(
    problem: Problem, state: Unknowns, k: int, allowed: tuple[FloatArray, ...], best: FloatArray
) -> FloatArray:
    """Chance that a miss of kind k stops at each position by each link: athletes x draws x 3 links x positions.

    Softmax of utilisation (best / allowed) over heights and links; a height that a bending bar relieves counts by
    the load that the hands hold there. No wrong notes yet.
    """
    load = np.minimum(best[..., None], problem.bend[:, k][:, None])
    weights = [np.exp(state.sharpness[..., None] * (np.minimum(load / a, 1.05) - 1.0)) for a in allowed]
    stuck = np.stack([w @ problem.notes[:, k] for w in weights], axis=2)
    return np.asarray(stuck / stuck.sum(axis=(2, 3), keepdims=True))


def cell_chance(state: Unknowns, stuck: FloatArray, quality: int, position: int, sign: int) -> FloatArray:
    """Chance of one note (position and sign) with wrong notes counted in, athletes x draws."""
    wrong = state.wrong_note
    if quality == MADE_HEAVY:
        wrong = wrong + (1.0 - wrong) * MADE_HEAVY_NOISE
    here = (1.0 - wrong)[..., None] * stuck[..., position] + (wrong / len(MISS_POSITIONS))[..., None] * stuck.sum(-1)
    if sign == NOT_NOTED:
        return np.asarray(here.sum(-1))
    sure = state.seen_strength if quality != MADE_HEAVY else state.seen_strength * (1.0 - MADE_HEAVY_NOISE)
    pointing = here @ SEEN_OWN[:, position, sign]
    return np.asarray(sure * pointing + (1.0 - sure) * SEEN_PLAIN[position, sign] * here.sum(-1))


def stuck_terms(
    problem: Problem, state: Unknowns, k: int, allowed: tuple[FloatArray, ...], best: FloatArray
) -> FloatArray:
    """Log-likelihood of all notes of kind k, athletes x draws."""
    stuck = stuck_chances(problem, state, k, allowed, best)
    total = np.zeros(best.shape)
    for quality, position, sign in np.argwhere(problem.counts[:, k].any(axis=0)):
        chance = cell_chance(state, stuck, int(quality), int(position), int(sign))
        total += problem.counts[:, k, quality, position, sign][:, None] * np.log(chance)
    return total


def grip_chance(log_best: FloatArray) -> FloatArray:
    """Chance that the grip opens before the body stops, from the last axis of log bests (hips, legs, back, grip)."""
    margin = (log_best[..., :3].min(-1) - log_best[..., 3]) / GRIP_BLUR
    return GRIP_NOTE_ERROR + (1.0 - 2.0 * GRIP_NOTE_ERROR) * normal_cdf(margin)


def grip_terms(problem: Problem, log_best: FloatArray) -> FloatArray:
    """Log-likelihood of grips that opened or held in misses, athletes x draws."""
    if not (problem.grip_opened.any() or problem.grip_held.any()):
        return np.zeros(log_best.shape[:2])
    total = np.zeros(log_best.shape[:2])
    for k in np.flatnonzero((problem.grip_opened + problem.grip_held).any(axis=0)):
        opens = grip_chance(log_best[:, :, k])
        opened, held = problem.grip_opened[:, k, None], problem.grip_held[:, k, None]
        total += opened * np.log(opens) + held * np.log1p(-opens)
    return total


def level_terms(problem: Problem, log_best: FloatArray) -> FloatArray:
    """Log-likelihood (up to a constant) of the running bests, athletes x draws."""
    gap = np.where(np.isfinite(problem.level_var)[:, None], problem.level[:, None] - log_best, 0.0)
    return np.asarray(-0.5 * ((gap @ problem.precision) * gap).sum(-1))
