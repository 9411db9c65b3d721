"""What the gate of predicted style ratios says now: the stored numbers beside their limits."""

from __future__ import annotations

import json
from dataclasses import dataclass

from analysis.core.strength.gate import LIMITS, STORED, constants_fingerprint, gate_holds


@dataclass(frozen=True, slots=True)
class GateRow:
    """One number of the gate: what is wanted, what the last calibration gave, whether it keeps to it."""

    words: str
    wanted: str
    found: str
    holds: bool


@dataclass(frozen=True, slots=True)
class GateState:
    """Whether ratios are shown, whether the numbers belong to the constants in force, and the rows."""

    holds: bool
    current: bool
    lifters: int
    rows: tuple[GateRow, ...]


def gate_state() -> GateState:
    """The gate as it stands; without a stored calibration it is shut and has no rows."""
    if not STORED.exists():
        return GateState(holds=False, current=False, lifters=0, rows=())
    stored = json.loads(STORED.read_text(encoding="utf-8"))
    n = stored["numbers"]
    low, high = LIMITS["median_low"], LIMITS["median_high"]
    tenth, ninetieth, least = (LIMITS[k] for k in ("tenth_at_most", "ninetieth_at_least", "rank_correlation_at_least"))
    return GateState(
        gate_holds(),
        stored["fingerprint"] == constants_fingerprint(),
        int(n["lifters"]),
        (
            GateRow("middle of sumo / conventional", f"{low} to {high}", f"{n['median']:.3f}",
                    low <= n["median"] <= high),
            GateRow("1 in 10 lies below", f"{tenth} or less", f"{n['tenth']:.3f}", n["tenth"] <= tenth),
            GateRow("1 in 10 lies above", f"{ninetieth} or more", f"{n['ninetieth']:.3f}", n["ninetieth"] >= ninetieth),
            GateRow("rank correlation with legs over back", f"{least} or more", f"{n['rank_correlation']:.2f}",
                    n["rank_correlation"] >= least),
        ),
    )  # fmt: skip
