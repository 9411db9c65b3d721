"""Reasons for and against each style, with the rows they rest on."""

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
class StyleComparison:
    """What stands behind each style as of a day; chances are the decision's alone."""

    as_of: date
    main: str
    reasons: tuple[StyleReason, ...]
