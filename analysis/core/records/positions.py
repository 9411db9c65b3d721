"""Where the noted positions of a miss lie along a pull."""

from __future__ import annotations

from itertools import accumulate, pairwise

from analysis.core.records.terms import MISS_POSITIONS


def band_edges(start_m: float, knee_m: float, top_m: float) -> tuple[float, ...]:
    """Heights of the bar (m) between one noted position and the next, from the floor up.

    The bands end 3 cm above the start, half-way up the shin, 2 cm below the knee, 4 cm above it, and 12 cm short
    of lockout; in a pull that starts higher the bands below the start are empty (calibration).
    """
    edges = [start_m + 0.03, 0.5 * (start_m + 0.03 + knee_m - 0.06), knee_m - 0.02, knee_m + 0.04, top_m - 0.12]
    return tuple(accumulate(edges, max))


def position_heights(start_m: float, knee_m: float, top_m: float) -> dict[str, float]:
    """One height (m) for each position: the start, the middle of every band between, lockout."""
    between = [0.5 * (low + high) for low, high in pairwise(band_edges(start_m, knee_m, top_m))]
    return dict(zip(MISS_POSITIONS, [start_m, *between, top_m], strict=True))
