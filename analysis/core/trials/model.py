"""The dip and the climb: log best = level + dip exp(-exposures / tau) + slow trend + noise, by exact integration.

Given tau the model is linear and normal, so each value of tau on a grid is solved exactly and the grid is
averaged with its evidence, and so are two sizes of the slow trend: without the larger one the stated ranges of lifters
who change fast were far too sure. Pulls of both styles on one day share part of that day's effect, and a lifter whose
own test noise is known gets a grid of noise scales. Exponential learning curves for individuals: Heathcote, Brown and
Mewhort 2000, Psychonomic Bulletin and Review 7:185-207 (from memory); the prior numbers are common practice, no source.
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
SCALE_SPREAD = 0.35  # log SD of a lifter's own test noise about the usual one (calibration)
SCALE_DF = 16.0  # degrees of freedom that about four months of older tests are worth (calibration)
SCALES = np.exp(np.array([-0.5, -0.15, 0.2, 0.53]))  # 0.6 to 1.7 times the usual noise


@dataclass(frozen=True, slots=True)
class TrialData:
    """One or many lifters' daily values, shape (..., n) each; NaN in `log_best` is a day that is not there.

    log_best: log of kg; is_new: 1 in the new style, 0 in the old; exposures: sessions in the new style before
    that day; weeks: since the trial began, negative before; noise: SD of log_best. partner: index of the value of the
    other style on the same day, earlier in the row, or -1, shape (n,); shared: correlation of such a pair.
    """

    log_best: Array
    is_new: Array
    exposures: Array
    weeks: Array
    noise: Array
    partner: NDArray[np.int64] | None = None
    shared: float = 0.0


@dataclass(frozen=True, slots=True)
class TrialPrior:
    """What is believed of the difference before the trial (log, mean and SD), and of the lifter's own test noise.

    noise_ratio: own over usual noise in older tests, None when unknown; shape () or (lifters,).
    """

    mean: float
    sd: float
    noise_ratio: Array | float | None = None


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


def tau_grid(settings: Settings = DEFAULTS, spread: float | None = None) -> tuple[Array, Array]:
    """Values of tau and their log prior weights: log-normal, out to 2.5 SD on both sides."""
    z = np.linspace(-2.5, 2.5, TAU_POINTS)
    return settings["trial.tau"] * np.exp((spread or settings["trial.tau_spread"]) * z), -0.5 * z**2


def prior(settings: Settings = DEFAULTS, *, dips: bool = True, beginner: bool = False) -> tuple[Array, Array]:
    """Prior mean and SD of (old level, difference, dip, trend a week), log units; old level about the data."""
    dip_mean = np.log1p(settings["trial.dip_mean"]) if dips else 0.0
    dip_sd = settings["trial.dip_sd"] if dips else NO_DIP_SD
    trend_sd = settings["trial.trend_sd_beginner" if beginner else "trial.trend_sd"]
    mean = np.array([0.0, 0.0, dip_mean, 0.0])
    return mean, np.array([OLD_LEVEL_SD, settings["trial.difference_sd"], dip_sd, max(trend_sd, 1e-6)])


def infer(
    data: TrialData,
    settings: Settings = DEFAULTS,
    *,
    dips: bool = True,
    beginner: bool = False,
    before: TrialPrior | None = None,
) -> TrialPosterior:
    """Posterior of level, difference, dip and trend for one lifter or many at once (leading axes).

    `before` replaces the settings' prior of the difference and brings the lifter's own noise; the difference then also
    carries the doubt whether effort is judged alike in both styles, which no number of sets takes away.
    """
    centre = np.nanmean(data.log_best, axis=-1, keepdims=True)
    y = np.where(np.isnan(data.log_best), 0.0, data.log_best - centre)
    taus, log_prior = tau_grid(settings)
    mean, sd = prior(settings, dips=dips, beginner=beginner)
    if before is not None:
        taus, log_prior = tau_grid(settings, settings["trial.rule_tau_spread"])
        mean[DIFFERENCE], sd[DIFFERENCE] = before.mean, before.sd
        sd[DIP] = settings["trial.rule_dip_sd"] if dips else NO_DIP_SD
    parts, scores, grid = [], [], []
    for scale, scale_score in _noise_scales(before):
        for times, share in TREND_MIX:
            spread = sd * np.array([1.0, 1.0, 1.0, times])
            for tau, tau_score in zip(taus, log_prior, strict=True):
                parts.append(_given_tau(data, y, tau, scale, mean, spread))
                scores.append(parts[-1][0] + tau_score + np.log(share) + scale_score)
                grid.append(tau)
    score = np.stack(scores, axis=-1)
    weights = np.exp(score - score.max(axis=-1, keepdims=True))
    weights /= weights.sum(axis=-1, keepdims=True)
    means = np.stack([p[1] for p in parts], axis=-2)
    means[..., OLD_LEVEL] += centre
    covariances = np.stack([p[2] for p in parts], axis=-3)
    if before is not None:
        covariances[..., DIFFERENCE, DIFFERENCE] += settings["trial.rating_sd"] ** 2
    return TrialPosterior(weights, means, covariances, np.array(grid))


def _noise_scales(before: TrialPrior | None) -> list[tuple[float, Array | float]]:
    """(scale of the noise, its log prior): only the usual noise unless older tests tell of the lifter's own."""
    if before is None or before.noise_ratio is None:
        return [(1.0, 0.0)]
    ratio = np.asarray(before.noise_ratio, float)
    log_scales = np.log(SCALES)
    own = [-SCALE_DF * (z + 0.5 * ratio**2 * np.exp(-2.0 * z)) for z in log_scales]
    usual = -0.5 * (log_scales / SCALE_SPREAD) ** 2
    return [(float(s), o + u) for s, o, u in zip(SCALES, own, usual, strict=True)]


def _given_tau(
    data: TrialData, y: Array, tau: float, scale: float, mean: Array, sd: Array
) -> tuple[Array, Array, Array]:
    """Log evidence (up to a constant), posterior mean and covariance for one tau and one scale of the noise."""
    seen = ~np.isnan(data.log_best)
    dip = data.is_new * np.exp(-data.exposures / tau)
    inverse = np.where(seen, 1.0 / (scale * data.noise), 0.0)
    design = np.stack([np.ones_like(y), data.is_new, dip, data.weeks], axis=-1) * inverse[..., None]
    target = y * inverse
    if data.partner is not None and data.shared:
        design, target = _unshared(design, target, seen, data.partner, data.shared)
    turned = np.swapaxes(design, -1, -2)
    precision = turned @ design + np.diag(sd**-2)
    pull = (turned @ target[..., None])[..., 0] + mean * sd**-2
    covariance = np.linalg.inv(precision)
    posterior = (covariance @ pull[..., None])[..., 0]
    _, log_det = np.linalg.slogdet(precision)
    fit = np.sum(pull * posterior, axis=-1) - np.sum(target**2, axis=-1) - log_det
    return 0.5 * fit - np.log(sd).sum() - seen.sum(axis=-1) * np.log(scale), posterior, covariance


def _unshared(
    design: Array, target: Array, seen: NDArray[np.bool_], partner: NDArray[np.int64], shared: float
) -> tuple[Array, Array]:
    """Standardised rows with what they share with the earlier pull of the same day taken out (Cholesky of a pair)."""
    both = seen & (partner >= 0) & seen[..., partner]
    rest = 1.0 / np.sqrt(1.0 - shared**2)
    new_design = np.where(both[..., None], (design - shared * design[..., partner, :]) * rest, design)
    return new_design, np.where(both, (target - shared * target[..., partner]) * rest, target)
