"""Why: how the leading link's chance would stand without each piece of evidence, by reweighting the draws."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from analysis.core.weak_link.likelihood import condition_terms, grip_chance, link_allowed, stuck_chances
from analysis.core.weak_link.notes import CellTerms, notes_term
from analysis.core.weak_link.posterior import even_draws, only
from analysis.core.weak_link.prior import unknowns
from analysis.core.weak_link.problem import NOT_PLACED, Condition, Problem, Stuck, level_precision, note_counts
from analysis.core.weak_link.sampler import Posterior

FloatArray = npt.NDArray[np.float64]

ASKED_DRAWS = 1600  # evenly weighted draws that are asked what moved them
EXPECTED_DRAWS = 400  # and where they expect a bar to stop


@dataclass(frozen=True, slots=True)
class Influence:
    """One piece of evidence left out: `what` is "stuck:<key>", "level:<kind>" or "grip:<kind>"; chances without it."""

    what: str
    chances: FloatArray  # 4


def influences(
    problem: Problem, posterior: Posterior, athlete: int, style_kind: int, stuck: tuple[Stuck, ...]
) -> list[Influence]:
    """The limiter's chances without each stuck lift, each level and each kind's grip notes.

    Asked of ASKED_DRAWS evenly weighted draws.
    """
    posterior = evened(posterior, athlete, ASKED_DRAWS)
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


def evened(posterior: Posterior, athlete: int, count: int) -> Posterior:
    """One athlete's posterior as `count` draws of one weight: enough to ask what each piece moved."""
    chosen = even_draws(posterior, athlete, count)
    return Posterior(
        draws=posterior.draws[athlete, chosen][None],
        weights=np.full((1, count), 1.0 / count),
        log_best=posterior.log_best[athlete, chosen][None],
        before=posterior.before[athlete : athlete + 1],
    )


def _stuck_terms(
    problem: Problem, posterior: Posterior, athlete: int, stuck: tuple[Stuck, ...]
) -> list[tuple[str, FloatArray]]:
    """What each lift's notes add to the log-likelihood: all notes' term less that of the others."""
    one = only(problem, athlete)
    state = unknowns(one, posterior.draws[athlete][None])
    cells: dict[Condition, CellTerms] = {}
    for kind in dict.fromkeys(at[0] for at in one.conditions):
        allowed = link_allowed(one, state, kind)
        cells |= {at: condition_terms(one, state, at, allowed) for at in one.conditions if at[0] == kind}
    shape = (1, posterior.weights.shape[1])
    whole = notes_term(one, one.counts, cells, shape)[0]
    terms = []
    for key in dict.fromkeys(s.key for s in stuck):
        others = note_counts([s for s in stuck if s.key != key], one.conditions)[None]
        terms.append((key, whole - notes_term(one, others, cells, shape)[0]))
    return terms


def expected_chances(problem: Problem, posterior: Posterior, athlete: int, stuck: tuple[Stuck, ...]) -> list[float]:
    """Chance that the model, wrong notes left aside, gives each noted position: mean over the posterior."""
    posterior = evened(posterior, athlete, EXPECTED_DRAWS)
    one = only(problem, athlete)
    state = unknowns(one, posterior.draws)
    found = []
    for kind in dict.fromkeys(s.kind for s in stuck if s.position != NOT_PLACED):
        by_position = stuck_chances(one, state, (kind, 0.0, 0.0), link_allowed(one, state, kind))[0].sum(axis=1)
        expected = posterior.weights[0] @ by_position
        found += [float(expected[s.position]) for s in stuck if s.kind == kind and s.position != NOT_PLACED]
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
    wrong = unknowns(only(problem, athlete), posterior.draws[athlete][None]).wrong_note[0]
    terms = []
    for kind in np.flatnonzero(opened):
        chance = grip_chance(posterior.log_best[athlete, :, kind], wrong)
        terms.append((int(kind), opened[kind] * np.log(chance) + held[kind] * np.log1p(-chance)))
    return terms
