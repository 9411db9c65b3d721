"""The decision of a trial by expected gain: what adopting and keeping would cost, and whether four more weeks pay."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from analysis.core.estimates.normal import normal_cdf
from analysis.core.records.estimates import TrialPoint
from analysis.core.settings import DEFAULTS, Settings
from analysis.core.trials.model import DIFFERENCE, TrialData, TrialPosterior, TrialPrior, infer

Array = NDArray[np.float64]


class Call(StrEnum):
    """What the log says at a decision day."""

    ADOPT = "adopt"
    KEEP = "keep"
    LEVEL = "level"
    FOUR_MORE_WEEKS = "four-more-weeks"


@dataclass(frozen=True, slots=True)
class ExpectedGain:
    """Of d = log(new / old) once trained: gain E[max(d, 0)], loss E[max(-d, 0)], chance of d > 0; shape (...)."""

    gain: Array
    loss: Array
    chance: Array

    def adopts(self, settings: Settings = DEFAULTS) -> NDArray[np.bool_]:
        """Whether the gain outweighs the loss, which counts `trial.loss_weight` times."""
        return np.asarray(self.gain > settings["trial.loss_weight"] * self.loss)

    def regret(self, settings: Settings = DEFAULTS) -> Array:
        """Expected cost of the better of the two choices, share of the best."""
        return np.asarray(np.minimum(settings["trial.loss_weight"] * self.loss, self.gain))


def normal_gain(mean: Array | float, sd: Array | float) -> Array:
    """E[max(x, 0)] of a normal x: m Phi(m/s) + s phi(m/s)."""
    z = np.asarray(mean, float) / sd
    return np.asarray(mean * normal_cdf(z) + sd * np.exp(-0.5 * z**2) / np.sqrt(2.0 * np.pi))


def expected_gain(posterior: TrialPosterior) -> ExpectedGain:
    """Gain, loss and chance of the trained difference under a trial's posterior (a mixture of normals)."""
    direction = np.zeros(4)
    direction[DIFFERENCE] = 1.0
    means, sds = posterior.along(direction)
    gain = np.sum(posterior.weights * normal_gain(means, sds), axis=-1)
    return ExpectedGain(gain, gain - posterior.mean(direction), posterior.chance_above(direction, 0.0))


def call_of(
    gain: ExpectedGain, settings: Settings = DEFAULTS, *, old_kept: bool = True, extended: bool = False
) -> Call:
    """The call for one lifter on a decision day.

    With the old style kept in the trial, expected gain decides; a regret above the setting asks for four more weeks
    once. Without it expected gain would adopt a style 5 % worse far too often where trends are strong, so the old
    threshold on the chance of a worthwhile gain stands (see `verdict`), and this rule only says level or keep.
    """
    if not extended and float(gain.regret(settings)) > settings["trial.regret_most"]:
        return Call.FOUR_MORE_WEEKS
    level = abs(float(gain.chance) - 0.5) <= settings["trial.level_band"]
    if level:
        return Call.LEVEL
    if old_kept and bool(gain.adopts(settings)):
        return Call.ADOPT
    return Call.KEEP


def trial_prior(mean: float, sd: float, settings: Settings = DEFAULTS, noise_ratio: float | None = None) -> TrialPrior:
    """The page's belief before the trial as the trial's prior; its mean is taken at `trial.prior_share`.

    The full mean would let leaning lifters adopt a style 5 % worse too often (see docs/calibration-trials.md).
    """
    return TrialPrior(mean * settings["trial.prior_share"], sd, noise_ratio)


LEAST_TESTS = 5  # older values from which a lifter's own test noise is read


def own_noise(points: Sequence[TrialPoint], settings: Settings = DEFAULTS) -> float | None:
    """The lifter's noise over the usual one from successive differences of older values; None with too few.

    Differences of neighbours carry twice the noise's variance and hardly any trend.
    """
    if len(points) < LEAST_TESTS:
        return None
    ordered = sorted(points, key=lambda p: p.week)
    steps = np.diff(np.log([p.estimate_kg for p in ordered]))
    return float(np.sqrt(0.5 * np.mean(steps**2)) / settings["trial.noise_sd"])


def heavy_days(new: Sequence[TrialPoint], load_of: Mapping[str, float], settings: Settings = DEFAULTS) -> int:
    """New-style days with a load from `trial.heavy_day_share` of the highest estimate among them; kg by set key.

    The load counts, not the day's estimate: three easy reps may point to a best that nobody has held yet.
    """
    best = max((p.estimate_kg for p in new), default=0.0)
    tops = [max((load_of.get(key, 0.0) for key in p.set_keys), default=0.0) for p in new]
    return sum(top > 0.0 and top >= settings["trial.heavy_day_share"] * best for top in tops)


def gain_of(
    old: Sequence[TrialPoint],
    new: Sequence[TrialPoint],
    before: TrialPrior,
    settings: Settings = DEFAULTS,
    *,
    dips: bool = True,
) -> ExpectedGain:
    """Gain, loss and chance for one lifter's daily values of both styles; pulls of one day are paired."""
    rows = [*new, *old]
    place = {point.week: number for number, point in enumerate(new)}
    partner = [-1] * len(new) + [place.get(point.week, -1) for point in old]
    data = TrialData(
        log_best=np.log([p.estimate_kg for p in rows]),
        is_new=np.array([1.0] * len(new) + [0.0] * len(old)),
        exposures=np.array([p.exposures for p in rows]),
        weeks=np.array([p.week for p in rows]),
        noise=np.maximum([p.sd_log for p in rows], settings["trial.noise_sd"]),
        partner=np.array(partner),
        shared=settings["trial.day_shared"] * (settings["trial.day_sd"] / settings["trial.noise_sd"]) ** 2,
    )
    return expected_gain(infer(data, settings, dips=dips, before=before))
