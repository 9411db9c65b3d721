"""Why: how the leading link's chance would stand without each piece of evidence, by reweighting the draws."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from analysis.core.weak_link.likelihood import binding_load, cell_chance, grip_chance, link_allowed, stuck_chances
from analysis.core.weak_link.posterior import only
from analysis.core.weak_link.prior import unknowns
from analysis.core.weak_link.problem import Problem, Stuck, level_precision
from analysis.core.weak_link.sampler import Posterior

FloatArray = npt.NDArray[np.float64]


LEAST_WEIGHT = 1e-5


@dataclass(frozen=True, slots=True)
class Influence:
    """One piece of evidence left out: `what` is "stuck:<key>", "level:<kind>" or "grip:<kind>"; chances without it."""

    what: str
    chances: FloatArray  # 4


def influences(
    problem: Problem, posterior: Posterior, athlete: int, style_kind: int, stuck: tuple[Stuck, ...]
) -> list[Influence]:
    """The limiter's chances without each stuck lift, each level and each kind's grip notes.

    Draws that carry next to no weight are left aside.
    """
    posterior = carrying(posterior, athlete)
    problem, athlete = only(problem, athlete), 0
    limiter = posterior.log_best[athlete, :, style_kind].argmin(-1)
    weights = posterior.weights[athlete]

    def without(what: str, log_term: FloatArray) -> Influence:
        left = weights * np.exp(-(log_term - log_term[weights > 0].min()))
        left = left / left.sum()
        return Influence(what, np.array([left[limiter == link].sum() for link in range(4)]))

    found = [without(f"stuck:{key}", term) for key, term in _stuck_terms(problem, posterior, athlete, stuck)]
    found += [without(f"level:{k}", term) for k, term in _level_terms(problem, posterior, athlete)]
    return found + [without(f"grip:{k}", term) for k, term in _grip_terms(problem, posterior, athlete)]


def carrying(posterior: Posterior, athlete: int) -> Posterior:
    """One athlete's draws without those that carry less than a hundred-thousandth of the heaviest one's weight."""
    weights = posterior.weights[athlete]
    kept = weights > LEAST_WEIGHT * weights.max()
    parts = (posterior.draws[athlete, kept], weights[kept] / weights[kept].sum(), posterior.log_best[athlete, kept])
    return Posterior(*(part[None] for part in parts))


def _stuck_terms(
    problem: Problem, posterior: Posterior, athlete: int, stuck: tuple[Stuck, ...]
) -> list[tuple[str, FloatArray]]:
    one = only(problem, athlete)
    state = unknowns(one, posterior.draws[athlete][None])
    terms: dict[str, FloatArray] = {}
    for kind in dict.fromkeys(s.kind for s in stuck):
        allowed = link_allowed(one, state, kind)
        best = np.stack([binding_load(one, load, kind) for load in allowed], axis=-1).min(-1)
        chances = stuck_chances(one, state, kind, allowed, best)
        rows = [s for s in stuck if s.kind == kind]
        cells = {
            cell: np.log(cell_chance(state, chances, *cell)[0])
            for cell in {(s.quality, s.position, s.sign) for s in rows}
        }
        for s in rows:
            terms[s.key] = terms.get(s.key, 0.0) + s.share * cells[s.quality, s.position, s.sign]
    return list(terms.items())


def expected_chances(problem: Problem, posterior: Posterior, athlete: int, stuck: tuple[Stuck, ...]) -> list[float]:
    """Chance that the model, wrong notes left aside, gives each noted position: mean over the posterior."""
    one = only(problem, athlete)
    state = unknowns(one, posterior.draws[athlete][None])
    found = []
    for kind in dict.fromkeys(s.kind for s in stuck):
        allowed = link_allowed(one, state, kind)
        best = np.stack([binding_load(one, load, kind) for load in allowed], axis=-1).min(-1)
        by_position = stuck_chances(one, state, kind, allowed, best)[0].sum(axis=1)
        expected = posterior.weights[athlete] @ by_position
        found += [float(expected[s.position]) for s in stuck if s.kind == kind]
    return found


def _level_terms(problem: Problem, posterior: Posterior, athlete: int) -> list[tuple[int, FloatArray]]:
    var = problem.level_var[athlete]
    log_best = posterior.log_best[athlete].min(-1)  # NaN where no evidence speaks, which `where` leaves out
    gap = np.where(np.isfinite(var), problem.level[athlete] - log_best, 0.0)
    whole = -0.5 * ((gap @ problem.precision[athlete]) * gap).sum(-1)
    terms = []
    for kind in np.flatnonzero(np.isfinite(var)):
        rest = np.where(np.arange(len(var)) == kind, np.inf, var)
        precision = level_precision(problem.error_cov[athlete], rest)
        terms.append((int(kind), whole + 0.5 * ((gap @ precision) * gap).sum(-1)))
    return terms


def _grip_terms(problem: Problem, posterior: Posterior, athlete: int) -> list[tuple[int, FloatArray]]:
    opened, held = problem.grip_opened[athlete], problem.grip_held[athlete]
    terms = []
    for kind in np.flatnonzero(opened):
        chance = grip_chance(posterior.log_best[athlete, :, kind])
        terms.append((int(kind), opened[kind] * np.log(chance) + held[kind] * np.log1p(-chance)))
    return terms
