"""Shares from counts with a Dirichlet prior: a table of misses with its doubt.

Mosimann 1962, Biometrika 49:65-82 (from memory) for the compound distribution.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, lgamma

import numpy as np
from numpy.typing import NDArray

from analysis.core.records.plain import CoreError

Array = NDArray[np.float64]


class BadCounts(CoreError):
    """Counts below 0, a prior of 0 or less, or lists of unequal length."""


@dataclass(frozen=True, slots=True)
class Shares:
    """Posterior share of each sort: mean, SD and the ends of its range, each shape (sorts,)."""

    mean: Array
    sd: Array
    low: Array
    high: Array
    total: int


def chance_of_counts(counts: Sequence[int], prior: Sequence[float]) -> float:
    """Chance of a table of counts before it is seen: n! G(A)/G(n+A) product of G(x+a)/(x! G(a)).

    counts and prior: shape (sorts,), prior above 0. The Dirichlet-multinomial distribution.
    """
    _check(counts, prior)
    n, a = sum(counts), sum(prior)
    log_chance = lgamma(n + 1) + lgamma(a) - lgamma(n + a)
    for x, alpha in zip(counts, prior, strict=True):
        log_chance += lgamma(x + alpha) - lgamma(x + 1) - lgamma(alpha)
    return exp(log_chance)


def shares(counts: Sequence[int], prior: Sequence[float] | float = 1.0, cover: float = 0.8) -> Shares:
    """Share of each sort given its count, with the central range of the given cover; prior a number or a list."""
    weights = [prior] * len(counts) if isinstance(prior, int | float) else list(prior)
    _check(counts, weights)
    alpha = np.asarray(counts, float) + np.asarray(weights, float)
    total = alpha.sum()
    mean = alpha / total
    sd = np.sqrt(mean * (1.0 - mean) / (total + 1.0))
    ends = [beta_quantiles(a, total - a, ((1.0 - cover) / 2.0, (1.0 + cover) / 2.0)) for a in alpha]
    low, high = np.array(ends).T
    return Shares(mean, sd, low, high, int(sum(counts)))


def beta_quantiles(a: float, b: float, chances: Sequence[float]) -> Array:
    """Quantiles of a beta distribution, shape (chances,), by integrating its density; absolute error below 1e-5.

    The share is written as sin^2(u), which takes the spikes at 0 and 1 out of the density for a, b >= 0.5.
    """
    if b <= 0:
        return np.ones(len(chances))
    edges = np.linspace(0.0, np.pi / 2.0, 20001)
    u = (edges[1:] + edges[:-1]) / 2.0
    log_density = (2.0 * a - 1.0) * np.log(np.sin(u)) + (2.0 * b - 1.0) * np.log(np.cos(u))
    below = np.concatenate([[0.0], np.cumsum(np.exp(log_density - log_density.max()))])
    return np.asarray(np.sin(np.interp(chances, below / below[-1], edges)) ** 2)


def _check(counts: Sequence[int], prior: Sequence[float]) -> None:
    if len(counts) != len(prior):
        raise BadCounts("prior", "one weight is needed for each count")
    if any(x < 0 for x in counts) or any(a <= 0 for a in prior):
        raise BadCounts("counts", "counts are 0 or more and prior weights above 0")
