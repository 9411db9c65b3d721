"""The unknowns of one lifter, all standard normal before any log is read.

0-3 the strengths (log-normal, correlated); 4-6 how each link's strength is shaped over the pull against the model's
curve; 7 how sharply the bar stops at the weakest height; 8 how often a position is noted wrongly; 9 how surely
what was seen points to its link; 10 how much more or less is held above the floor than in its band; 11-12 how much more
the knees must give than the net moment, in either style; 13 what a hard day costs while it is fresh. All but the first
four are unknown because the model may be wrong in just these ways.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from analysis.core.weak_link.problem import Problem
from analysis.core.weak_link.tabulated import FLOOR_SD, SLOPE_SD, Shape

FloatArray = npt.NDArray[np.float64]

UNKNOWNS = 14
SHARPNESS_SD = 0.4  # calibration, log
WRONG_NOTE_SD = 1.6  # calibration, log odds
SEEN_SD = 1.2  # calibration, log odds
FATIGUE, FATIGUE_SD = 0.04, 0.6  # calibration: share of strength a hard day takes at first, and its log SD


@dataclass(frozen=True, slots=True)
class Unknowns:
    """Draws in the field's own units: athletes x draws (x 4 strengths)."""

    log_strength: FloatArray
    shape: Shape
    sharpness: FloatArray
    wrong_note: FloatArray
    seen_strength: FloatArray
    fatigue: FloatArray


def unknowns(problem: Problem, draws: FloatArray) -> Unknowns:
    """Standard normal draws (athletes x draws x UNKNOWNS) in the field's own units."""
    strength = problem.prior_mean[:, None] + draws[..., :4] @ problem.prior_root.transpose(0, 2, 1)
    return Unknowns(
        log_strength=strength,
        shape=Shape(SLOPE_SD * draws[..., 4:7], FLOOR_SD * draws[..., 10], draws[..., 11:13]),
        sharpness=problem.centres["weak.sharpness"] * np.exp(SHARPNESS_SD * draws[..., 7]),
        wrong_note=_moved(problem.centres["weak.wrong_note"], WRONG_NOTE_SD * draws[..., 8]),
        seen_strength=_moved(problem.centres["weak.seen_strength"], SEEN_SD * draws[..., 9]),
        fatigue=FATIGUE * np.exp(FATIGUE_SD * draws[..., 13]),
    )


def _moved(centre: float, log_odds: FloatArray) -> FloatArray:
    """A chance whose log odds are shifted."""
    centre = min(max(centre, 1e-4), 1.0 - 1e-4)
    return np.asarray(1.0 / (1.0 + (1.0 - centre) / centre * np.exp(-log_odds)))
