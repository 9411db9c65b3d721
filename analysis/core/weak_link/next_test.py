"""The next best test: the one whose result is expected to shrink the doubt about the limiter most."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from analysis.core.records.terms import MISS_POSITIONS
from analysis.core.weak_link.likelihood import link_allowed, stuck_chances
from analysis.core.weak_link.notes import single_chance
from analysis.core.weak_link.posterior import even_draws, only, true_best
from analysis.core.weak_link.prior import Unknowns, unknowns
from analysis.core.weak_link.problem import MADE_HEAVY, SIGNS, Problem
from analysis.core.weak_link.sampler import Posterior

FloatArray = npt.NDArray[np.float64]
RESULTS = 41  # grid of possible results


@dataclass(frozen=True, slots=True)
class TestWorth:
    """What one test would tell: bits about the limiter, result now expected (kg, 80 % range), chances after.

    `chances_low` and `chances_high` are the limiter's chances after a result at the ends of that range.
    """

    kind: int
    bits: float
    middle_kg: float
    low_kg: float
    high_kg: float
    chances_low: FloatArray
    chances_high: FloatArray


def worth_of_tests(
    problem: Problem,
    posterior: Posterior,
    log_best: FloatArray,
    athlete: int,
    style_kind: int,
    tests: Sequence[tuple[int, float]],
) -> list[TestWorth]:
    """Every test (kind, SD of its result in log), most telling first.

    `log_best` is from `even_bests`. Bits are the mutual information with which strength limits `style_kind`: of the
    result, by a grid over its predictive distribution, plus of where the test's pulls are slowest and what is seen.
    """
    limiter = log_best[:, style_kind].argmin(-1)
    one = only(problem, athlete)
    state = unknowns(one, posterior.draws[athlete, even_draws(posterior, athlete, len(log_best))][None])
    found = []
    for kind, sd in tests:
        worth = _worth(problem, log_best.min(-1), limiter, athlete, kind, sd)
        noted = note_bits(one, state, kind, limiter) if problem.is_pull[athlete, kind] else 0.0
        found.append(replace(worth, bits=worth.bits + noted))
    return sorted(found, key=lambda worth: -worth.bits)


def note_bits(one: Problem, state: Unknowns, kind: int, limiter: npt.NDArray[np.int64]) -> float:
    """Bits about the limiter in where a made heavy pull of this kind is slowest and what is seen there."""
    stuck = stuck_chances(one, state, (kind, 0.0, 0.0), link_allowed(one, state, kind))
    cells = [
        single_chance(state, stuck, (MADE_HEAVY, position, sign))[0]
        for position in range(len(MISS_POSITIONS))
        for sign in range(len(SIGNS))
    ]
    joint = np.array([[cell[limiter == link].sum() for link in range(4)] for cell in cells]) + 1e-300
    total = joint.sum()
    after = joint / joint.sum(-1, keepdims=True)
    return _entropy(joint.sum(0) / total) - float(joint.sum(-1) / total @ _entropy_rows(after))


def _worth(
    problem: Problem, log_best: FloatArray, limiter: npt.NDArray[np.int64], athlete: int, kind: int, noise: float
) -> TestWorth:
    best = true_best(problem, log_best, athlete, kind)
    sd = float(np.hypot(best.sd, noise))
    grid = np.linspace(best.mean.min() - 3.0 * sd, best.mean.max() + 3.0 * sd, RESULTS)
    density = np.exp(-0.5 * ((grid[:, None] - best.mean) / sd) ** 2)
    joint = np.stack([density[:, limiter == link].sum(-1) for link in range(4)], axis=-1) + 1e-300
    total = joint.sum()
    result = joint.sum(-1) / total
    after = joint / joint.sum(-1, keepdims=True)
    before = joint.sum(0) / total
    bits = _entropy(before) - float(result @ _entropy_rows(after))
    reached = np.cumsum(result)
    low, middle, high = (float(np.interp(c, reached, grid)) for c in (0.1, 0.5, 0.9))
    ends = [np.array([np.interp(x, grid, after[:, link]) for link in range(4)]) for x in (low, high)]
    return TestWorth(
        kind, max(bits, 0.0), float(np.exp(middle)), float(np.exp(low)), float(np.exp(high)), ends[0], ends[1]
    )


def _entropy(chances: FloatArray) -> float:
    return float(_entropy_rows(chances[None])[0])


def _entropy_rows(chances: FloatArray) -> FloatArray:
    safe = np.maximum(chances, 1e-300)
    return np.asarray(-(chances * np.log2(safe)).sum(-1))
