"""What a row of the boundary tables is, and what must hold of it: the named number moves the outcome."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

from analysis.core.settings import DEFAULTS, Settings

NUDGE = 1.0 + 1e-9  # carries a computed value over a limit that its own rounding error would miss


@dataclass(frozen=True)
class Edge:
    """A threshold: `read(value, settings)` just below, at and just above it, with the defaults in force.

    `others` are settings laid over the defaults for all three, where the number only speaks with another one switched.
    """

    key: str
    at: float
    step: float
    read: Callable[[float, Settings], Any]
    below: Any
    on: Any
    above: Any
    others: Mapping[str, float] = field(default_factory=dict)

    def __str__(self) -> str:
        return f"{self.key} {self.at:g}"


@dataclass(frozen=True)
class Slope:
    """A number with a continuous effect: `read(settings)` rises (or falls) from `low` over the default to `high`.

    `low` or `high` is None where the default stands at that end; `default` is the outcome with nothing changed.
    """

    key: str
    low: float | None
    high: float | None
    read: Callable[[Settings], float]
    rises: bool = True
    default: float | None = None
    others: Mapping[str, float] = field(default_factory=dict)

    def __str__(self) -> str:
        return self.key


def check_edge(row: Edge) -> None:
    """Three inputs give the three outcomes, and moving the setting past the middle one changes its outcome."""
    usual = DEFAULTS.with_values(row.others)
    values = (row.at - row.step, row.at, row.at + row.step)
    assert tuple(row.read(value, usual) for value in values) == (row.below, row.on, row.above)
    assert row.below != row.above
    sign, expected = (1, row.below) if row.below != row.on else (-1, row.above)
    moved = usual.with_values({row.key: usual[row.key] + sign * row.step})
    assert row.read(row.at, moved) == expected


def check_slope(row: Slope) -> None:
    """The outcome moves in the named direction at every step, and stands where it should with the default."""
    usual = DEFAULTS.with_values(row.others)
    steps = [usual.with_values({row.key: v}) for v in (row.low,) if v is not None]
    steps += [usual, *(usual.with_values({row.key: v}) for v in (row.high,) if v is not None)]
    assert len(steps) > 1
    chosen = [one[row.key] for one in steps]
    assert chosen == sorted(set(chosen))
    found = [row.read(one) for one in steps]
    for first, second in pairwise(found):
        assert (second - first) * (1 if row.rises else -1) > 1e-9, found
    if row.default is not None:
        assert abs(row.read(usual) - row.default) <= 1e-6 * max(1.0, abs(row.default))
