"""Whether predicted style ratios may be shown: numbers of the last calibration, and the constants they held for."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from functools import cache
from pathlib import Path

from analysis.core.body.constants import all_constants
from analysis.core.strength.constants import strength_constants

STORED = Path(__file__).with_name("gate.json")
LIMITS = {
    "median_low": 0.97,
    "median_high": 1.03,
    "tenth_at_most": 0.92,
    "ninetieth_at_least": 1.08,
    "rank_correlation_at_least": 0.6,
}


def constants_fingerprint() -> str:
    """A short text that changes when any constant of the mechanics or the strength model changes."""
    listed = [(c.key, c.value) for c in (*all_constants(), *strength_constants())]
    return hashlib.sha256(json.dumps(listed).encode()).hexdigest()[:16]


def passes(numbers: Mapping[str, float]) -> bool:
    """Whether median, tenth, ninetieth and rank_correlation of sumo over conventional keep to the limits."""
    return bool(
        LIMITS["median_low"] <= numbers["median"] <= LIMITS["median_high"]
        and numbers["tenth"] <= LIMITS["tenth_at_most"]
        and numbers["ninetieth"] >= LIMITS["ninetieth_at_least"]
        and numbers["rank_correlation"] >= LIMITS["rank_correlation_at_least"]
    )


@cache
def gate_holds() -> bool:
    """Whether the stored calibration was made with these constants and keeps to the limits; no file = no."""
    if not STORED.exists():
        return False
    stored = json.loads(STORED.read_text(encoding="utf-8"))
    return stored["fingerprint"] == constants_fingerprint() and passes(stored["numbers"])
