"""What the weighted draws say: who limits, how heavy, where it sticks, what 5 % more of a strength is worth."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from analysis.core.weak_link.likelihood import binding_load, link_allowed, log_bests
from analysis.core.weak_link.prior import Unknowns, unknowns
from analysis.core.weak_link.problem import SHARED, Problem
from analysis.core.weak_link.sampler import SEED, Posterior

FloatArray = npt.NDArray[np.float64]
EVEN_DRAWS = 400
TOLD = 1.14  # calibration: power of the chances before they are put in words
GAIN = 1.05


def limiter_chances(posterior: Posterior, kind: int) -> FloatArray:
    """Chance that hips, legs, back or grip limits lifts of this kind, athletes x 4."""
    limiter = posterior.log_best[:, :, kind].argmin(-1)
    return np.stack([(posterior.weights * (limiter == link)).sum(-1) for link in range(4)], axis=-1)


def told_chances(chances: FloatArray) -> FloatArray:
    """Chances as they are told: log odds times TOLD (... x 4).

    The estimate allows for more errors than simulated logs hold and was 3 to 8 points too modest in most of them
    (docs/calibration-weak-points.md).
    """
    raised = np.maximum(chances, 1e-12) ** TOLD
    return np.asarray(raised / raised.sum(-1, keepdims=True))


def weighted_quantiles(values: FloatArray, weights: FloatArray, chances: tuple[float, ...]) -> tuple[float, ...]:
    """Quantiles of weighted draws (N,)."""
    order = np.argsort(values)
    reached = np.cumsum(weights[order])
    return tuple(float(np.interp(c * reached[-1], reached, values[order])) for c in chances)


def even_draws(posterior: Posterior, athlete: int, count: int = EVEN_DRAWS) -> npt.NDArray[np.int64]:
    """Indices of equally weighted draws by systematic resampling."""
    edges = np.cumsum(posterior.weights[athlete])
    spots = (np.arange(count) + 0.5) / count * edges[-1]
    return np.asarray(np.searchsorted(edges, spots).clip(max=len(edges) - 1))


def even_bests(problem: Problem, posterior: Posterior, athlete: int, count: int = EVEN_DRAWS) -> FloatArray:
    """Log bests of all kinds at evenly weighted draws, also of kinds no evidence speaks of: draws x kinds x 4."""
    one, chosen = only(problem, athlete), even_draws(posterior, athlete, count)
    state = unknowns(one, posterior.draws[athlete, chosen][None])
    found = [log_bests(one, state, k, link_allowed(one, state, k))[0] for k in range(problem.shape[1])]
    return np.stack(found, axis=1)


@dataclass(frozen=True, slots=True)
class TrueBest:
    """Log of the true best of one kind given each draw: mean (N,) and SD; style factor and model error counted in."""

    mean: FloatArray
    sd: float


def true_best(problem: Problem, log_best: FloatArray, athlete: int, kind: int) -> TrueBest:
    """Regression of a kind's own error on the errors that the levels show; log_best is draws x kinds."""
    here = problem.error_cov[athlete, kind]
    known = np.isfinite(problem.level_var[athlete])
    gap = np.where(known, problem.level[athlete] - log_best, 0.0)
    weight = here @ problem.precision[athlete]
    variance = here[kind] - weight @ here
    return TrueBest(
        log_best[:, kind] + problem.style_mean[athlete, kind] + gap @ weight, float(np.sqrt(max(variance, 1e-8)))
    )


def best_range(problem: Problem, log_best: FloatArray, athlete: int, kind: int) -> tuple[float, float, float]:
    """Median and 80 % range of the true best, kg, from `even_bests`."""
    best = true_best(problem, log_best.min(-1), athlete, kind)
    noise = np.random.default_rng(SEED).standard_normal((20, 1))
    low, middle, high = np.exp(np.quantile(best.mean + best.sd * noise, (0.1, 0.5, 0.9)))
    return float(middle), float(low), float(high)


@dataclass(frozen=True, slots=True)
class Pull:
    """Evenly weighted draws of one kind: best that strengths allow (kg), and per strength the load at each height."""

    best: FloatArray  # draws
    allowed: FloatArray  # draws x 3 x heights
    by_strength: FloatArray  # draws x 4
    gains: FloatArray  # draws x 4, best at 1.05 of each strength over best


def pull_of(problem: Problem, posterior: Posterior, athlete: int, kind: int, count: int = EVEN_DRAWS) -> Pull:
    """The pull over its heights for evenly weighted draws."""
    one = only(problem, athlete)
    chosen = even_draws(posterior, athlete, count)
    state = unknowns(one, posterior.draws[athlete, chosen][None])
    allowed = link_allowed(one, state, kind)
    by_strength = np.exp(log_bests(one, state, kind, allowed)[0])
    loads = np.concatenate(allowed).transpose(1, 0, 2)
    return Pull(by_strength.min(-1), loads, by_strength, _gains(one, state, kind, by_strength))


def _gains(problem: Problem, state: Unknowns, kind: int, by_strength: FloatArray) -> FloatArray:
    """Best with 5 % more of each strength over the best now, draws x 4."""
    raised = by_strength.copy()
    more = replace(state, log_strength=state.log_strength + np.log(GAIN))
    for link, load in enumerate(link_allowed(problem, more, kind)):
        raised[:, link] = binding_load(problem, load, kind)[0]
    raised[:, 3] = by_strength[:, 3] * GAIN
    gains = np.empty_like(raised)
    for link in range(4):
        mixed = by_strength.copy()
        mixed[:, link] = raised[:, link]
        gains[:, link] = mixed.min(-1) / by_strength.min(-1)
    return gains


def only(problem: Problem, athlete: int) -> Problem:
    """The problem of one athlete of the squad."""
    parts = {
        name: getattr(problem, name)[athlete : athlete + 1]
        for name in problem.__dataclass_fields__
        if name not in SHARED
    }
    return Problem(**parts, conditions=problem.conditions, centres=problem.centres)
