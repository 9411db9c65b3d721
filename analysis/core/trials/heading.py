"""Where the new style is heading: the posterior turned into kg, a range and three chances."""

from __future__ import annotations

from collections.abc import Sequence
from math import exp

import numpy as np

from analysis.core.records.estimates import TrialHeading, TrialPoint
from analysis.core.settings import DEFAULTS, Settings
from analysis.core.trials.model import DIP, OLD_LEVEL, TrialData, TrialPosterior, infer

DIFFERENCE_ONLY = (0.0, 1.0, 0.0, 0.0)


def heading_of(
    old: Sequence[TrialPoint],
    new: Sequence[TrialPoint],
    weeks_now: float,
    exposures_now: float,
    settings: Settings = DEFAULTS,
    *,
    dips: bool = True,
    beginner: bool = False,
) -> TrialHeading:
    """Difference of the new style, its dip gone, from the old one at the same time, with an 80 % range.

    old and new: daily values before and during the trial; chances are of better, equal and worse by more
    than the smallest worthwhile change and the band of equality (settings).
    """
    posterior = infer(_data(old, new, settings), settings, dips=dips, beginner=beginner)
    return summary(posterior, weeks_now, exposures_now, settings)


def _data(old: Sequence[TrialPoint], new: Sequence[TrialPoint], settings: Settings) -> TrialData:
    """Points of both styles as arrays."""
    rows = [*old, *new]
    return TrialData(
        log_best=np.log([p.estimate_kg for p in rows]),
        is_new=np.array([0.0] * len(old) + [1.0] * len(new)),
        exposures=np.array([p.exposures for p in rows]),
        weeks=np.array([p.week for p in rows]),
        noise=np.maximum([p.sd_log for p in rows], settings["trial.noise_sd"]),
    )


def summary(
    posterior: TrialPosterior, weeks_now: float, exposures_now: float, settings: Settings = DEFAULTS
) -> TrialHeading:
    """One lifter's posterior as kg, range and chances."""
    ends = (1.0, 1.0, 0.0, weeks_now)
    left = np.exp(-exposures_now / posterior.taus)
    now = np.column_stack([np.ones_like(left), np.ones_like(left), left, np.full_like(left, weeks_now)])
    better, worse = chances(posterior, settings)
    return TrialHeading(
        difference=float(posterior.mean(DIFFERENCE_ONLY)),
        difference_sd=float(posterior.sd(DIFFERENCE_ONLY)),
        low=float(posterior.quantile(DIFFERENCE_ONLY, 0.1)),
        high=float(posterior.quantile(DIFFERENCE_ONLY, 0.9)),
        chance_better=float(better),
        chance_equal=float(chance_equal(posterior, settings)),
        chance_worse=float(worse),
        tau=float(np.sum(posterior.weights * posterior.taus)),
        dip=float(posterior.mean(np.eye(4)[DIP])),
        dip_left=float(posterior.mean(now - np.array(ends))),
        old_kg=exp(float(posterior.mean(np.eye(4)[OLD_LEVEL] + np.array([0, 0, 0, weeks_now])))),
        heading_kg=exp(float(posterior.mean(ends))),
        heading_low_kg=exp(float(posterior.quantile(ends, 0.1))),
        heading_high_kg=exp(float(posterior.quantile(ends, 0.9))),
        now_kg=exp(float(posterior.mean(now))),
    )


def chances(posterior: TrialPosterior, settings: Settings = DEFAULTS) -> tuple[np.ndarray, np.ndarray]:
    """Chance that the new style ends better, and worse, by more than the smallest worthwhile change."""
    least = settings["trial.worthwhile"]
    better = posterior.chance_above(DIFFERENCE_ONLY, float(np.log1p(least)))
    worse = 1.0 - posterior.chance_above(DIFFERENCE_ONLY, float(np.log1p(-least)))
    return better, worse


def chance_equal(posterior: TrialPosterior, settings: Settings = DEFAULTS) -> np.ndarray:
    """Chance that the two styles end within the band of equality of one another."""
    band = settings["trial.equal_within"]
    above = posterior.chance_above(DIFFERENCE_ONLY, float(np.log1p(band)))
    return posterior.chance_above(DIFFERENCE_ONLY, float(np.log1p(-band))) - above
