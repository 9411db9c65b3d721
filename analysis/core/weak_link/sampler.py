"""Draws from the posterior, for a whole squad at once: adaptive importance sampling.

First draws from the prior, then from a mixture with one normal for each link that may limit (the posterior bends
where the limiter changes, so one normal fits badly), and all draws are weighted by the mixture of everything they
were drawn from (Cornuet, Marin, Mira and Robert 2012, adaptive multiple importance sampling).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from analysis.core.weak_link.likelihood import evaluate
from analysis.core.weak_link.prior import UNKNOWNS
from analysis.core.weak_link.problem import Problem

FloatArray = npt.NDArray[np.float64]

PRIOR_DRAWS = 1400
ADAPTED_DRAWS = (1600, 2000, 3000)  # of each round
ENOUGH, MORE_DRAWS, MORE_ROUNDS = 400.0, 3000, 1  # further rounds while somebody has fewer effective draws
FIT_DRAWS = 60.0  # weights are softened for a fit until this many draws carry it
PRIOR_SHARE = 0.1  # of an adapted round that is still drawn from the prior: weights stay bounded
WIDEN = 1.3  # variance of each fitted normal is widened by this
LEAST_CLASS = 0.02
SEED = 20261125


@dataclass(frozen=True, slots=True)
class Posterior:
    """Weighted draws: A x N x UNKNOWNS standard normal unknowns, weights A x N (sum 1), log bests A x N x K x 4.

    `before` are the limiter's chances before any log, A x 4, for the kind that was asked about.
    """

    draws: FloatArray
    weights: FloatArray
    log_best: FloatArray
    before: FloatArray

    @property
    def effective_draws(self) -> FloatArray:
        """Kish's effective number of draws, per athlete."""
        return _effective(self.weights)


@dataclass(frozen=True, slots=True)
class _Mixture:
    """Normals per athlete: log weights A x C, means A x C x D, lower roots A x C x D x D."""

    log_weight: FloatArray
    mean: FloatArray
    root: FloatArray


def sample(problem: Problem, kind: int = 0, seed: int = SEED, size: float = 1.0) -> Posterior:
    """Posterior of every athlete; `kind` is the one by whose limiter the proposals are split."""
    rng = np.random.default_rng(seed)
    athletes, count = problem.shape[0], int(PRIOR_DRAWS * size)
    draws = np.repeat(rng.standard_normal((1, count, UNKNOWNS)), athletes, axis=0)
    kinds = active_kinds(problem, kind)
    seen = evaluate(problem, draws, kinds)
    log_best, log_like, log_prior = seen.log_best, seen.log_likelihood, _prior_density(draws)
    before = np.stack([(log_best[:, :, kind].argmin(-1) == link).mean(-1) for link in range(4)], axis=-1)
    blocks, sources = [_products(draws)], [_prior_planes(athletes, count)]
    mixed = log_prior + np.log(count)  # log of (number drawn from each source times its density), summed
    log_weights = log_like
    for step, number in enumerate((*ADAPTED_DRAWS, *(MORE_DRAWS,) * MORE_ROUNDS)):
        if step >= len(ADAPTED_DRAWS) and _effective(_normalised(log_weights)).min() >= ENOUGH * size:
            break
        mixture = _fit(draws, softened(log_weights), log_best[:, :, kind].argmin(-1))
        fresh = _draw(rng, mixture, int(number * size))
        source = _planes(mixture, fresh.shape[1])
        mixed = np.logaddexp(mixed, np.concatenate([_density(source, block) for block in blocks], axis=1))
        blocks, sources = [*blocks, _products(fresh)], [*sources, source]
        mixed = np.concatenate([mixed, _density(np.concatenate(sources, axis=1), blocks[-1])], axis=1)
        more = evaluate(problem, fresh, kinds)
        draws = np.concatenate([draws, fresh], axis=1)
        log_best = np.concatenate([log_best, more.log_best], axis=1)
        log_like = np.concatenate([log_like, more.log_likelihood], axis=1)
        log_prior = np.concatenate([log_prior, _prior_density(fresh)], axis=1)
        log_weights = log_like + log_prior - mixed
    return Posterior(draws, _normalised(log_weights), log_best, before)


def softened(log_weights: FloatArray) -> FloatArray:
    """Normalised weights raised to the greatest power up to 1 that leaves FIT_DRAWS effective draws, per athlete."""
    low, high = np.zeros(log_weights.shape[0]), np.ones(log_weights.shape[0])
    power = high
    for _ in range(12):
        weights = _normalised(log_weights * power[:, None])
        enough = 1.0 / (weights**2).sum(-1) >= FIT_DRAWS
        low, high = np.where(enough, power, low), np.where(enough, high, power)
        if enough.all() and (power == 1.0).all():
            return weights
        power = np.where(low == 1.0, 1.0, 0.5 * (low + high))
    return _normalised(log_weights * low[:, None])


def active_kinds(problem: Problem, kind: int) -> tuple[int, ...]:
    """Kinds that any athlete's evidence speaks of, and the one whose limiter is asked."""
    spoken = np.isfinite(problem.level_var) | (problem.grip_opened > 0) | (problem.grip_held > 0)
    noted = {at[0] for at in problem.conditions}
    return tuple(k for k in range(problem.shape[1]) if k == kind or k in noted or spoken[:, k].any())


def _effective(weights: FloatArray) -> FloatArray:
    return np.asarray(1.0 / (weights**2).sum(-1))


def _normalised(log_weights: FloatArray) -> FloatArray:
    weights = np.exp(log_weights - log_weights.max(axis=-1, keepdims=True))
    return np.asarray(weights / weights.sum(axis=-1, keepdims=True))


def _prior_density(draws: FloatArray) -> FloatArray:
    return np.asarray(-0.5 * (draws**2).sum(-1) - 0.5 * UNKNOWNS * np.log(2.0 * np.pi))


def _fit(draws: FloatArray, weights: FloatArray, limiter: npt.NDArray[np.int64]) -> _Mixture:
    """One normal per limiter from the weighted draws, plus the prior; thin classes lean on the whole posterior."""
    athletes = draws.shape[0]
    whole_mean, whole_cov = _moments(draws, weights)
    log_weight, mean, root = [], [], []
    for link in range(4):
        here = weights * (limiter == link)
        mass = here.sum(-1)
        effective = mass**2 / np.maximum((here**2).sum(-1), 1e-300)
        own_mean, own_cov = _moments(draws, here / np.maximum(mass, 1e-300)[:, None])
        trust = effective / (effective + 3.0 * UNKNOWNS)
        mean.append(np.where(mass[:, None] > 1e-12, own_mean, whole_mean))
        cov = trust[:, None, None] * own_cov + (1.0 - trust)[:, None, None] * whole_cov
        root.append(np.linalg.cholesky(WIDEN * cov + 1e-3 * np.eye(UNKNOWNS)))
        log_weight.append(np.maximum(mass, LEAST_CLASS))
    shares = np.stack(log_weight, axis=-1)
    shares = (1.0 - PRIOR_SHARE) * shares / shares.sum(-1, keepdims=True)
    shares = np.concatenate([shares, np.full((athletes, 1), PRIOR_SHARE)], axis=-1)
    mean.append(np.zeros((athletes, UNKNOWNS)))
    root.append(np.broadcast_to(np.eye(UNKNOWNS), (athletes, UNKNOWNS, UNKNOWNS)))
    return _Mixture(np.log(shares), np.stack(mean, axis=1), np.stack(root, axis=1))


def _moments(draws: FloatArray, weights: FloatArray) -> tuple[FloatArray, FloatArray]:
    mean = (weights[:, None] @ draws)[:, 0]
    centred = draws - mean[:, None]
    return mean, (centred * weights[..., None]).transpose(0, 2, 1) @ centred


def _draw(rng: np.random.Generator, mixture: _Mixture, count: int) -> FloatArray:
    """Draws of the mixture, athletes x count x unknowns; the components' counts are stratified."""
    athletes = mixture.mean.shape[0]
    edges = np.cumsum(np.exp(mixture.log_weight), axis=-1)
    spot = (np.arange(count) + rng.uniform(size=(athletes, 1))) / count
    which = np.minimum((spot[..., None] > edges[:, None]).sum(-1), mixture.mean.shape[1] - 1)
    normal = rng.standard_normal((athletes, count, UNKNOWNS))
    row = np.arange(athletes)[:, None]
    moved = (mixture.root[row, which] @ normal[..., None])[..., 0]
    return np.asarray(mixture.mean[row, which] + moved)


_PAIRS = np.triu_indices(UNKNOWNS)
_TWICE = np.where(_PAIRS[0] == _PAIRS[1], 1.0, 2.0)


def _products(draws: FloatArray) -> FloatArray:
    """Products of two unknowns, the unknowns and 1, athletes x products x draws: log densities are planes of them."""
    across = np.ascontiguousarray(draws.transpose(0, 2, 1))
    out = np.empty((draws.shape[0], len(_TWICE) + UNKNOWNS + 1, draws.shape[1]))
    at = 0
    for first in range(UNKNOWNS):
        np.multiply(across[:, first : first + 1], across[:, first:], out=out[:, at : at + UNKNOWNS - first])
        at += UNKNOWNS - first
    out[:, at:-1], out[:, -1] = across, 1.0
    return out


def _planes(mixture: _Mixture, number: int) -> FloatArray:
    """Log of `number` times each normal's density, as planes of the products: athletes x normals x products."""
    inverse = np.linalg.inv(mixture.root)
    precision = inverse.transpose(0, 1, 3, 2) @ inverse
    pull = (precision @ mixture.mean[..., None])[..., 0]
    log_det = np.log(np.abs(np.diagonal(inverse, axis1=2, axis2=3))).sum(-1)
    level = np.log(number) + mixture.log_weight + log_det - 0.5 * UNKNOWNS * np.log(2.0 * np.pi)
    level = level - 0.5 * (pull * mixture.mean).sum(-1)
    pairs = -0.5 * _TWICE * precision[..., _PAIRS[0], _PAIRS[1]]
    return np.concatenate([pairs, pull, level[..., None]], axis=-1)


def _prior_planes(athletes: int, number: int) -> FloatArray:
    """The same for draws of the prior."""
    standard = _Mixture(
        np.zeros((athletes, 1)),
        np.zeros((athletes, 1, UNKNOWNS)),
        np.broadcast_to(np.eye(UNKNOWNS), (athletes, 1, UNKNOWNS, UNKNOWNS)),
    )
    return _planes(standard, number)


def _density(planes: FloatArray, products: FloatArray) -> FloatArray:
    """Log of all that was drawn at each draw, athletes x draws: numbers times densities, summed."""
    each = planes @ products
    top = each.max(1)
    each -= top[:, None]
    return np.asarray(top + np.log(np.exp(each, out=each).sum(1)))
