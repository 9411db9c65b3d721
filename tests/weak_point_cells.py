"""One cell of the weak-point calibration: simulated lifters read by the sampler and by a plain reference sampler."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np

from analysis.core.records.demands import DemandTable
from analysis.core.records.terms import MISS_POSITIONS
from analysis.core.settings import DEFAULTS
from analysis.core.weak_link.likelihood import (
    condition_terms,
    evaluate,
    grip_terms,
    level_terms,
    link_allowed,
    log_bests,
)
from analysis.core.weak_link.notes import notes_term
from analysis.core.weak_link.posterior import limiter_chances, true_best
from analysis.core.weak_link.prior import UNKNOWNS, unknowns
from analysis.core.weak_link.problem import Evidence, Problem, note_counts, stack
from analysis.core.weak_link.sampler import Posterior, sample
from tests.simulated_lifters import KIND, Plan, Squad, squad, tables

BATCH = 4
REFERENCE_DRAWS = 6_000


@dataclass(frozen=True, slots=True)
class Cell:
    """Per lifter: chances (lifters x 4), the truth's limiter, ranks of the truth, and the reference's chances."""

    chances: np.ndarray
    limiter: np.ndarray
    ranks: np.ndarray  # of log hips, legs, back, and of the log true best
    covered: np.ndarray  # 80 % range of the true best
    effective: np.ndarray
    reference: np.ndarray | None
    positions: np.ndarray  # commonest noted position, -1 without misses

    @property
    def right(self) -> float:
        """Share of lifters whose limiter has the greatest chance."""
        return float((self.chances.argmax(1) == self.limiter).mean())

    @property
    def stated(self) -> float:
        """Mean of the greatest chance."""
        return float(self.chances.max(1).mean())

    @property
    def standard_error(self) -> float:
        """Of stated minus right, if the chances are honest."""
        top = self.chances.max(1)
        return float(np.sqrt((top * (1.0 - top)).sum()) / len(top))

    @property
    def log_score(self) -> float:
        """Mean log chance of the true limiter."""
        return log_score(self.chances, self.limiter)

    @property
    def brier(self) -> float:
        """Mean squared distance of the chances from the truth, over the four links."""
        return brier(self.chances, self.limiter)

    def reference_right(self) -> float:
        """Share right of the reference sampler on the same data."""
        assert self.reference is not None
        return float((self.reference.argmax(1) == self.limiter).mean())


def log_score(chances: np.ndarray, limiter: np.ndarray) -> float:
    return float(np.log(np.maximum(chances[np.arange(len(limiter)), limiter], 1e-4)).mean())


def brier(chances: np.ndarray, limiter: np.ndarray) -> float:
    return float(((chances - np.eye(4)[limiter]) ** 2).sum(1).mean())


def run_cell(
    plan: Plan, lifters: int, seed: int = 1, *, size: float = 0.5, reference: bool = False, **world: Any
) -> Cell:
    """`lifters` of eight bodies under a plan; `world` is passed to the simulation, callables get the table."""
    rng = np.random.default_rng(seed)
    parts = []
    for table in tables():
        given = {k: v(table) if k == "world" else v for k, v in world.items()}
        group = squad(table, plan, max(lifters // 8, 1), rng, **given)
        parts.append(_read(group, plan, size, reference))
    joined = [np.concatenate([p[i] for p in parts]) for i in range(7) if parts[0][i] is not None]
    if not reference:
        joined.insert(5, None)
    return Cell(*joined)


def _read(group: Squad, plan: Plan, size: float, reference: bool) -> tuple[np.ndarray | None, ...]:
    kind = KIND[plan.style]
    found: list[list[np.ndarray]] = [[], [], [], []]
    for first in range(0, len(group.evidence), BATCH):
        rows = slice(first, first + BATCH)
        problem = stack([group.table] * len(group.evidence[rows]), group.evidence[rows], DEFAULTS)
        posterior = sample(problem, kind, size=size)
        ranks, covered = _ranks(problem, posterior, group, rows, kind)
        for place, value in enumerate((limiter_chances(posterior, kind), ranks, covered, posterior.effective_draws)):
            found[place].append(value)
    chances, ranks, covered, effective = (np.concatenate(x) for x in found)
    other = reference_chances(group.table, group.evidence, kind) if reference else None
    return chances, group.limiter, ranks, covered, effective, other, _positions(group.evidence)


def _ranks(
    problem: Problem, posterior: Posterior, group: Squad, rows: slice, kind: int
) -> tuple[np.ndarray, np.ndarray]:
    """Weighted share of draws below the truth: three strengths and the true best of the style."""
    truth = group.draws[rows]
    strength = problem.prior_mean[:, None] + posterior.draws[..., :4] @ problem.prior_root.transpose(0, 2, 1)
    true_strength = problem.prior_mean + (problem.prior_root @ truth[:, :4, None])[..., 0]
    below = ((strength < true_strength[:, None]) * posterior.weights[..., None]).sum(1)[:, :3]
    noise = np.random.default_rng(7).standard_normal(posterior.weights.shape[1])
    best = []
    for a in range(len(truth)):
        drawn = true_best(problem, posterior.log_best[a].min(-1), a, kind)
        value = drawn.mean + drawn.sd * noise
        best.append(float(posterior.weights[a] @ (value < group.true_best[rows][a, kind])))
    ranks = np.concatenate([below, np.array(best)[:, None]], axis=1)
    return ranks, (ranks[:, 3] > 0.1) & (ranks[:, 3] < 0.9)


def _positions(evidence: list[Evidence]) -> np.ndarray:
    tally = [np.bincount([s.position for s in e.stuck], minlength=len(MISS_POSITIONS)) for e in evidence]
    return np.array([int(t.argmax()) if t.any() else -1 for t in tally])


def reference_chances(
    table: DemandTable, evidence: list[Evidence], kind: int, draws: int = REFERENCE_DRAWS, seed: int = 99
) -> np.ndarray:
    """Limiter's chances by plain importance sampling from the prior: many draws, one set of them for all lifters."""
    pooled = Evidence(
        evidence[0].level,
        evidence[0].level_sd,
        tuple(s for e in evidence for s in e.stuck),
        evidence[0].grip_opened,
        evidence[0].grip_held,
    )
    every = stack([table], [pooled], DEFAULTS)
    state = unknowns(every, np.random.default_rng(seed).standard_normal((1, draws, UNKNOWNS)))
    used = sorted({kind} | {int(k) for e in evidence for k in np.flatnonzero(np.isfinite(e.level))})
    log_best = np.full((1, draws, len(table.kinds), 4), np.nan)
    for k in used:
        log_best[:, :, k] = log_bests(every, state, k, link_allowed(every, state, k))
    cells = {at: condition_terms(every, state, at, link_allowed(every, state, at[0])) for at in every.conditions}
    limiter = np.eye(4)[log_best[0, :, kind].argmin(-1)]
    out = []
    for one in evidence:
        problem = stack([table], [one], DEFAULTS)
        counts = note_counts(one.stuck, every.conditions)[None]
        total = notes_term(every, counts, cells, (1, draws)) + grip_terms(problem, state, log_best)
        weight = total + level_terms(problem, log_best.min(-1))
        weight = np.exp(weight[0] - weight.max())
        out.append(weight @ limiter / weight.sum())
    return np.array(out)


def position_baseline(train: Cell, test: Cell) -> np.ndarray:
    """Chances from the commonest miss position alone: the limiters' shares among other lifters stuck there."""
    table = np.ones((len(MISS_POSITIONS) + 1, 4))
    np.add.at(table, (train.positions, train.limiter), 1.0)
    table /= table.sum(1, keepdims=True)
    return table[test.positions]


def reliability(
    cell: Cell, edges: tuple[float, ...] = (0.0, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0)
) -> list[tuple[str, int, float, float]]:
    """Bins of the greatest chance: name, lifters, mean stated, share right."""
    top, right = cell.chances.max(1), cell.chances.argmax(1) == cell.limiter
    rows = []
    for low, high in pairwise(edges):
        here = (top > low) & (top <= high)
        if here.any():
            rows.append((f"{low:.1f}-{high:.1f}", int(here.sum()), float(top[here].mean()), float(right[here].mean())))
    return rows


def flatness(ranks: np.ndarray, bins: int = 20) -> float:
    """Chi-square of a rank histogram against flat, over its degrees of freedom (about 1 when flat)."""
    counts = np.histogram(ranks, bins, (0.0, 1.0))[0]
    expected = len(ranks) / bins
    return float(((counts - expected) ** 2 / expected).sum() / (bins - 1))


__all__ = ["Cell", "Plan", "evaluate", "flatness", "position_baseline", "reference_chances", "reliability", "run_cell"]
