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

PRIOR_DRAWS = 800
ADAPTED_DRAWS = (500, 500, 1000)  # of each round
FIT_DRAWS = 60.0  # weights are softened for a fit until this many draws carry it
PRIOR_SHARE = 0.1  # of an adapted round that is still drawn from the prior: weights stay bounded
WIDEN = 1.3  # variance of each fitted normal is widened by this
LEAST_CLASS = 0.02
SEED = 20261125


@dataclass(frozen=True, slots=True)
class Posterior:
    """Weighted draws: A x N x 10 standard normal unknowns, weights A x N (sum 1), log bests A x N x K x 4."""

    draws: FloatArray
    weights: FloatArray
    log_best: FloatArray

    @property
    def effective_draws(self) -> FloatArray:
        """Kish's effective number of draws, per athlete."""
        return np.asarray(1.0 / (self.weights**2).sum(-1))


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
    mixtures: list[tuple[int, _Mixture]] = []
    mixed = log_prior + np.log(count)  # log of (number drawn from each source times its density), summed
    log_weights = log_like
    for number in ADAPTED_DRAWS:
        mixture = _fit(draws, softened(log_weights), log_best[:, :, kind].argmin(-1))
        fresh = _draw(rng, mixture, int(number * size))
        more, fresh_prior = evaluate(problem, fresh, kinds), _prior_density(fresh)
        mixed = np.logaddexp(mixed, np.log(fresh.shape[1]) + _density(mixture, draws))
        fresh_mixed = fresh_prior + np.log(count)
        mixtures.append((fresh.shape[1], mixture))
        for drawn, source in mixtures:
            fresh_mixed = np.logaddexp(fresh_mixed, np.log(drawn) + _density(source, fresh))
        draws, mixed = np.concatenate([draws, fresh], axis=1), np.concatenate([mixed, fresh_mixed], axis=1)
        log_best = np.concatenate([log_best, more.log_best], axis=1)
        log_like = np.concatenate([log_like, more.log_likelihood], axis=1)
        log_prior = np.concatenate([log_prior, fresh_prior], axis=1)
        log_weights = log_like + log_prior - mixed
    return Posterior(draws, _normalised(log_weights), log_best)


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
    spoken = np.isfinite(problem.level_var) | problem.counts.any(axis=(2, 3, 4))
    spoken = spoken | (problem.grip_opened > 0) | (problem.grip_held > 0)
    return tuple(k for k in range(problem.shape[1]) if k == kind or spoken[:, k].any())


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


def _density(mixture: _Mixture, draws: FloatArray) -> FloatArray:
    """Log density of the mixture at each draw, athletes x draws."""
    total = np.full(draws.shape[:2], -np.inf)
    for c in range(mixture.mean.shape[1]):
        inverse = np.linalg.inv(mixture.root[:, c])
        spread = ((draws - mixture.mean[:, c][:, None]) @ inverse.transpose(0, 2, 1)) ** 2
        log_det = np.log(np.abs(np.diagonal(inverse, axis1=1, axis2=2))).sum(-1)
        one = mixture.log_weight[:, c] + log_det - 0.5 * UNKNOWNS * np.log(2.0 * np.pi)
        total = np.logaddexp(total, one[:, None] - 0.5 * spread.sum(-1))
    return total
