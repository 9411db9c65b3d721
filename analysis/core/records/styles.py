"""Reasons for and against each style, and the chance that another style is the better one, with its span."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from analysis.core.records.messages import Words


@dataclass(frozen=True, slots=True)
class StyleReason:
    """One reason: kind (trial, log, build, bar, grip, back, years), side (for, against, note), words, its rows."""

    style: str
    kind: str
    side: str
    text: Words
    set_keys: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class StyleOdds:
    """Chances that `style` beats `main` by more than the worthwhile share, is about equal, or is worse.

    `low` and `high` are the least and the most that `better` becomes over the listed settings.
    """

    style: str
    main: str
    better: float
    equal: float
    worse: float
    low: float
    high: float
    difference: float
    difference_sd: float
    rests_on: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StyleComparison:
    """The comparison of styles as of a day; `headline` says the odds in words, never a verdict."""

    as_of: date
    main: str
    headline: str
    odds: tuple[StyleOdds, ...]
    reasons: tuple[StyleReason, ...]
    would_change: tuple[str, ...]
    span_words: str
