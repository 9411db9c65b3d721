"""One belief about d = ln(sumo / conventional), both trained on one bar, from links, build, logged and tried results.

mean = s (a L + b Z), variance = s^2 (1 - a^2 rho - b^2 q) + s^2 (a_sd^2 L^2 + b_sd^2 Z^2), then normal updating with
every measured difference. L is the posterior mean of standardised ln(legs / back) with reliability rho, Z that of the
build score with reliability q. No average difference between trained styles is published (Cholewa 2019, Gundersen
2024, read as abstracts); legs over back carries half of what statics claims, build r = 0.15 (Cholewa et al. 2019
found r = 0.30 for one ratio in 47 beginners, its sign unclear in the abstract).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import ArrayLike, NDArray

from analysis.core.estimates.normal import normal_cdf
from analysis.core.records.decision import BuildScore, Lean, LinkPosterior, StyleResult, Word
from analysis.core.settings import DEFAULTS, Settings

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class StyleWeights:
    """SD of d between lifters, weights of legs over back and of build with their own doubt (SD)."""

    spread: float
    legs: float
    legs_sd: float
    build: float
    build_sd: float

    @classmethod
    def of(cls, settings: Settings = DEFAULTS) -> StyleWeights:
        """The weights of the settings."""
        return cls(*(settings[f"style.{name}"] for name in ("spread", "legs", "legs_sd", "build", "build_sd")))

    def corners(self) -> tuple[StyleWeights, ...]:
        """The ends of the weights: legs 0 to 0.6 and build -0.15 to 0.3 by default (1.5 and 2 SD), without doubt."""
        legs = (self.legs - 1.5 * self.legs_sd, self.legs + 1.5 * self.legs_sd)
        build = (self.build - 2.0 * self.build_sd, self.build + self.build_sd)
        return tuple(StyleWeights(self.spread, a, 0.0, b, 0.0) for a, b in product(legs, build))


def moments(
    legs: ArrayLike, reliability: ArrayLike, build: ArrayLike, build_reliability: ArrayLike, weights: StyleWeights
) -> tuple[Array, Array]:
    """Mean and SD of d before any result, any shape."""
    left, score = np.asarray(legs, float), np.asarray(build, float)
    explained = weights.legs**2 * np.asarray(reliability) + weights.build**2 * np.asarray(build_reliability)
    doubt = (weights.legs_sd * left) ** 2 + (weights.build_sd * score) ** 2
    mean = weights.spread * (weights.legs * left + weights.build * score)
    return mean, np.asarray(weights.spread * np.sqrt(1.0 - explained + doubt))


def with_results(mean: float, sd: float, results: Sequence[StyleResult]) -> tuple[float, float]:
    """Mean and SD after every measured difference (normal, independent)."""
    precision, pull = sd**-2, mean * sd**-2
    for result in results:
        precision += result.sd**-2
        pull += result.difference * result.sd**-2
    return pull / precision, precision**-0.5


def belief(
    links: LinkPosterior | None,
    build: BuildScore | None,
    results: Sequence[StyleResult] = (),
    weights: StyleWeights | None = None,
) -> tuple[float, float]:
    """Mean and SD of d for one lifter; unknown links or build count as average with reliability 0."""
    left = (links.legs_over_back, links.reliability) if links else (0.0, 0.0)
    shape = (build.score, build.reliability) if build else (0.0, 0.0)
    mean, sd = moments(*left, *shape, weights or StyleWeights.of())
    return with_results(float(mean), float(sd), results)


def trial_value(mean: ArrayLike, sd: ArrayLike, settings: Settings = DEFAULTS) -> Array:
    """Expected gain of a trial, share of the best: E[max(posterior mean after it, 0)] less the time lost.

    The posterior mean after a trial of error SD t is normal about the mean with SD s^2 / sqrt(s^2 + t^2).
    """
    middle, spread = np.asarray(mean, float), np.asarray(sd, float)
    moved = spread**2 / np.sqrt(spread**2 + settings["style.trial_error"] ** 2)
    z = middle / moved
    gain = middle * normal_cdf(z) + moved * np.exp(-0.5 * z**2) / np.sqrt(2.0 * np.pi)
    return np.asarray(gain - settings["style.trial_cost"])


VERY_LIKELY, LIKELY, LEANING = 0.85, 0.65, 0.55


def word_of(chance: float, most: Word = Word.VERY_LIKELY) -> Word:
    """The word of a chance on the one scale, no surer than `most`."""
    order = (Word.VERY_LIKELY, Word.LIKELY, Word.LEANING, Word.OPEN)
    limits = (VERY_LIKELY, LIKELY, LEANING, 0.0)
    found = next(i for i, limit in enumerate(limits) if chance >= limit)
    return order[max(found, order.index(most))]


def lean_of(
    other: str,
    main: str,
    links: LinkPosterior | None,
    build: BuildScore | None,
    results: Sequence[StyleResult] = (),
    shift: float = 0.0,
    settings: Settings = DEFAULTS,
) -> Lean:
    """The lean of one lifter with its span over the weights.

    `shift` (log, + for the other style) is what stated reasons besides kilos are worth: it counts in the value of a
    trial, never in the chance of more kilos. Without a result of both styles the words stop at "leaning" and the chance
    at the cap; the span over the weights stays as wide as it is.
    """
    sign = -1.0 if main != "conventional" and other == "conventional" else 1.0
    weights = StyleWeights.of(settings)
    mean, sd = belief(links, build, results, weights)
    better = float(normal_cdf(sign * mean / sd))
    span = [better]
    for corner in weights.corners():
        m, s = belief(links, build, results, corner)
        span.append(float(normal_cdf(sign * m / s)))
    style = other if better >= LEANING else main if better <= 1.0 - LEANING else ""
    low, high = min(span), max(span)
    chance = better
    if style == main:
        chance, low, high = 1.0 - better, 1.0 - high, 1.0 - low
    cap, most = (0.9, Word.VERY_LIKELY) if results else (settings["style.cap"], Word.LEANING)
    shown = min(chance, cap)
    word = word_of(chance, most) if style else Word.OPEN
    value = float(trial_value(sign * mean + shift, sd, settings))
    return Lean(style, word, shown, min(low, shown), max(high, shown), value, sign * mean, sd)
