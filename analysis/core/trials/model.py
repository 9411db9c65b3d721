"""The dip and the climb: log best = level + dip exp(-exposures / tau) + slow trend + noise, by exact integration.

Given tau the model is linear and normal, so each value of tau on a grid is solved exactly and the grid is
averaged with its evidence, and so are two sizes of the slow trend: without the larger one the stated ranges of lifters
who change fast were far too sure. Exponential learning curves for individuals: Heathcote, Brown and Mewhort 2000,
Psychonomic Bulletin and Review 7:185-207 (from memory); the prior numbers are common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from analysis.core.estimates.normal import mixture_cdf, mixture_quantile
from analysis.core.settings import DEFAULTS, Settings

Array = NDArray[np.float64]
OLD_LEVEL, DIFFERENCE, DIP, TREND = range(4)
OLD_LEVEL_SD = 0.5  # log units about the mean of the data: as good as unknown
NO_DIP_SD = 1e-6
TAU_POINTS = 21
TREND_MIX = ((1.0, 0.8), (3.0, 0.2))  # times the usual slow change, share of lifters (calibration)


@dataclass(frozen=True, slots=True)
class TrialData:
    """One or many lifters' daily values, shape (..., n) each; NaN in `log_best` is a day that is not there.

    log_best: log of kg; is_new: 1 in the new style, 0 in the old; exposures: sessions in the new style before
    that day; weeks: since the trial began, negative before; noise: SD of log_best.
    """

    log_best: Array
    is_new: Array
    exposures: Array
    weeks: Array
    noise: Array


@dataclass(frozen=True, slots=True)
class TrialPosterior:
    """Mixture over tau: weights (..., k), means (..., k, 4), covariances (..., k, 4, 4), taus (k,)."""

    weights: Array
    means: Array
    covariances: Array
    taus: Array

    def along(self, direction: ArrayLike) -> tuple[Array, Array]:
        """Mean and SD of a linear combination, each (..., k); direction is (4,) or (k, 4)."""
        c = np.broadcast_to(np.asarray(direction, float), self.means.shape)
        variance = np.einsum("...i,...ij,...j->...", c, self.covariances, c)
        return np.sum(self.means * c, axis=-1), np.sqrt(np.maximum(variance, 1e-18))

    def chance_above(self, direction: ArrayLike, limit: float) -> Array:
        """Chance that the combination exceeds `limit`, shape (...)."""
        means, sds = self.along(direction)
        return 1.0 - mixture_cdf(np.full(means.shape[:-1], limit), self.weights, means, sds)

    def quantile(self, direction: ArrayLike, chance: float) -> Array:
        """The value the combination stays under with `chance`, shape (...)."""
        means, sds = self.along(direction)
        return mixture_quantile(chance, self.weights, means, sds)

    def mean(self, direction: ArrayLike) -> Array:
        """Posterior mean of the combination, shape (...)."""
        return np.asarray(np.sum(self.weights * self.along(direction)[0], axis=-1))

    def sd(self, direction: ArrayLike) -> Array:
        """Posterior SD of the combination, shape (...)."""
        means, sds = self.along(direction)
        centre = np.sum(self.weights * means, axis=-1, keepdims=True)
        return np.asarray(np.sqrt(np.sum(self.weights * (sds**2 + (means - centre) ** 2), axis=-1)))


def tau_grid(settings: Settings = DEFAULTS) -> tuple[Array, Array]:
    """Values of tau and their log prior weights: log-normal, out to 2.5 SD on both sides."""
    z = np.linspace(-2.5, 2.5, TAU_POINTS)
    return settings["trial.tau"] * np.exp(settings["trial.tau_spread"] * z), -0.5 * z**2


def prior(settings: Settings = DEFAULTS, *, dips: bool = True, beginner: bool = False) -> tuple[Array, Array]:
    """Prior mean and SD of (old level, difference, dip, trend a week), log units; old level about the data."""
    dip_mean = np.log1p(settings["trial.dip_mean"]) if dips else 0.0
    dip_sd = settings["trial.dip_sd"] if dips else NO_DIP_SD
    trend_sd = settings["trial.trend_sd_beginner" if beginner else "trial.trend_sd"]
    mean = np.array([0.0, 0.0, dip_mean, 0.0])
    return mean, np.array([OLD_LEVEL_SD, settings["trial.difference_sd"], dip_sd, max(trend_sd, 1e-6)])


def infer(
    data: TrialData, settings: Settings = DEFAULTS, *, dips: bool = True, beginner: bool = False
) -> TrialPosterior:
    """Posterior of level, difference, dip and trend for one lifter or many at once (leading axes)."""
    centre = np.nanmean(data.log_best, axis=-1, keepdims=True)
    seen = ~np.isnan(data.log_best)
    y = np.where(seen, data.log_best - centre, 0.0)
    weight = np.where(seen, data.noise**-2, 0.0)
    taus, log_prior = tau_grid(settings)
    mean, sd = prior(settings, dips=dips, beginner=beginner)
    trends = [sd * np.array([1.0, 1.0, 1.0, times]) for times, _ in TREND_MIX]
    parts = [_given_tau(data, y, weight, tau, mean, spread) for spread in trends for tau in taus]
    log_prior = np.concatenate([log_prior + np.log(share) for _, share in TREND_MIX])
    taus = np.tile(taus, len(TREND_MIX))
    score = np.stack([p[0] for p in parts], axis=-1) + log_prior
    weights = np.exp(score - score.max(axis=-1, keepdims=True))
    weights /= weights.sum(axis=-1, keepdims=True)
    means = np.stack([p[1] for p in parts], axis=-2)
    means[..., OLD_LEVEL] += centre
    return TrialPosterior(weights, means, np.stack([p[2] for p in parts], axis=-3), taus)


def _given_tau(
    data: TrialData, y: Array, weight: Array, tau: float, mean: Array, sd: Array
) -> tuple[Array, Array, Array]:
    """Log evidence (up to a constant), posterior mean and covariance for one tau."""
    dip = data.is_new * np.exp(-data.exposures / tau)
    design = np.stack([np.ones_like(y), data.is_new, dip, data.weeks], axis=-1)
    weighted = design * weight[..., None]
    precision = np.einsum("...ni,...nj->...ij", weighted, design) + np.diag(sd**-2)
    pull = np.einsum("...ni,...n->...i", weighted, y) + mean * sd**-2
    covariance = np.linalg.inv(precision)
    posterior = np.einsum("...ij,...j->...i", covariance, pull)
    _, log_det = np.linalg.slogdet(precision)
    log_prior_sd = np.log(sd).sum()
    return 0.5 * (np.einsum("...i,...i->...", pull, posterior) - log_det) - log_prior_sd, posterior, covariance
