"""The chance that another style is better, combined from trial, log and build by how much each is worth.

log(best in the style / best in the main style) has a normal prior centred on 0 with the population's SD: no average
difference between trained styles is published, trained lifters stand at 0.92 to 1.08 (common practice, no source).
Build moves the centre by r z SD with r = 0.30 (Cholewa et al. 2019, 47 beginners, sitting height over stature; about
9 % of the variance; the sign is not certain in the abstract). The log adds the difference of running bests with its
error, a first cost for a style not yet trained; a trial's heading, which already contains the log, replaces it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import product

from analysis.core.estimates.normal import normal_cdf
from analysis.core.records.styles import StyleOdds
from analysis.core.settings import DEFAULTS, Settings

POPULATION_SD = 0.08  # SD of log(sumo / conventional) between trained lifters: common practice, no source
BUILD_R = 0.30  # Cholewa et al. 2019
BUILD_MEAN = {"m": (0.5231, 0.0135), "f": (0.5262, 0.0141)}  # sitting height / stature, ANSUR II (Gordon et al. 2014)


@dataclass(frozen=True, slots=True)
class StyleEvidence:
    """What is known of one style against the main one, log units; None where nothing is."""

    style: str
    main: str
    sitting_share: float | None = None  # sitting height over stature
    sex: str = "m"
    log_difference: float | None = None
    log_sd: float = 0.1
    trained: bool = True
    trial_difference: float | None = None
    trial_sd: float = 0.1


@dataclass(frozen=True, slots=True)
class Weights:
    """The settings the odds depend on."""

    population_sd: float
    build_r: float
    worthwhile: float
    dip: float
    dip_sd: float


def usual_weights(settings: Settings = DEFAULTS) -> Weights:
    """The weights in force."""
    return Weights(
        POPULATION_SD, BUILD_R, settings["trial.worthwhile"], settings["trial.dip_mean"], settings["trial.dip_sd"]
    )


def build_shift(evidence: StyleEvidence, weights: Weights) -> float:
    """By how much build moves the prior towards sumo (or away from it), log units; 0 when not measured."""
    if evidence.sitting_share is None:
        return 0.0
    mean, sd = BUILD_MEAN[evidence.sex]
    z = min(max((evidence.sitting_share - mean) / sd, -3.0), 3.0)
    towards = int("sumo" in evidence.style) - int("sumo" in evidence.main)
    return towards * weights.build_r * z * weights.population_sd


def difference(evidence: StyleEvidence, weights: Weights) -> tuple[float, float]:
    """Mean and SD of log(style / main) once both are trained, from prior, build, then trial or log."""
    mean = build_shift(evidence, weights)
    variance = weights.population_sd**2 * (1.0 - weights.build_r**2)
    observed = _observed(evidence, weights)
    if observed is None:
        return mean, float(variance**0.5)
    value, noise = observed
    gain = variance / (variance + noise)
    return mean + gain * (value - mean), float((variance * (1.0 - gain)) ** 0.5)


def _observed(evidence: StyleEvidence, weights: Weights) -> tuple[float, float] | None:
    """Observed difference and its variance: the trial's heading, else the log with the first cost taken off."""
    if evidence.trial_difference is not None:
        return evidence.trial_difference, evidence.trial_sd**2
    if evidence.log_difference is None:
        return None
    if evidence.trained:
        return evidence.log_difference, evidence.log_sd**2
    return evidence.log_difference - weights.dip, evidence.log_sd**2 + weights.dip_sd**2


def chances(evidence: StyleEvidence, weights: Weights) -> tuple[float, float, float]:
    """Chances of better by more than the worthwhile share, about equal, worse by more than it."""
    mean, sd = difference(evidence, weights)
    worse = float(normal_cdf((-weights.worthwhile - mean) / sd))
    not_better = float(normal_cdf((weights.worthwhile - mean) / sd))
    return 1.0 - not_better, not_better - worse, worse


def neighbours(weights: Weights) -> Iterator[Weights]:
    """The listed other settings: prior SD 6 to 10 %, build 0 to 0.4, worthwhile and first cost a third less or more."""
    for sd, r, scale, dip in product((0.06, 0.08, 0.10), (0.0, 0.3, 0.4), (2 / 3, 1.0, 4 / 3), (2 / 3, 1.0, 4 / 3)):
        yield replace(
            weights, population_sd=sd, build_r=r, worthwhile=weights.worthwhile * scale, dip=weights.dip * dip
        )


def style_odds(evidence: StyleEvidence, settings: Settings = DEFAULTS) -> StyleOdds:
    """The odds of one style against the main one, with the span over the listed settings."""
    weights = usual_weights(settings)
    better, equal, worse = chances(evidence, weights)
    span = [chances(evidence, other)[0] for other in neighbours(weights)]
    mean, sd = difference(evidence, weights)
    return StyleOdds(
        evidence.style, evidence.main, better, equal, worse, min(*span, better), max(*span, better), mean, sd,
        rests_on(evidence),
    )  # fmt: skip


def rests_on(evidence: StyleEvidence) -> tuple[str, ...]:
    """What the odds rest on, strongest first."""
    named = []
    if evidence.trial_difference is not None:
        named.append("a trial")
    elif evidence.log_difference is not None:
        named.append("logged bests in both styles" if evidence.trained else "first lifts in an untrained style")
    if evidence.sitting_share is not None:
        named.append("build, a weak hint (about 9 % of the difference between beginners)")
    return tuple(named) or ("nothing of this athlete's own yet",)
