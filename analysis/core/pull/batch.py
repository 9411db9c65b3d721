"""A whole squad in one call: postures and moments of athletes x styles x heights, computed in chunks."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from analysis.core.body import constants as c
from analysis.core.body.body import Body
from analysis.core.pull.moments import moments_of
from analysis.core.pull.pull import problem_of, pull_postures
from analysis.core.pull.setups import Setups

FloatArray = npt.NDArray[np.float64]
CHUNK_POINTS = 16_000  # points at a time: the temporaries stay in the processor's cache
_ANGLES = ("z", "u", "knee_flexion", "hip_flexion", "trunk_angle", "shank_lean", "hip_bar_distance")
_MOMENTS = ("hip", "adductor", "knee", "trunk", "l4l5", "ankle")


@dataclass(frozen=True, slots=True)
class SquadPulls:
    """Pulls of a squad; every array (athletes, styles, heights) except `problem` (athletes, styles).

    `posture` by name (m, rad), `a` (N m per kg) and `b` (N m) by joint; `problem` indexes pull.PROBLEMS.
    """

    posture: dict[str, FloatArray]
    a: dict[str, FloatArray]
    b: dict[str, FloatArray]
    problem: npt.NDArray[np.int64]


def squad_pulls(body: Body, setups: Setups, heights: int = 61, push: float = c.DEFAULT_PUSH) -> SquadPulls:
    """Pulls of bodies (athletes,) in setups (styles,) at `heights` bar heights from the start to lockout."""
    shape = (len(body), setups.stance.size, heights)
    posture = {key: np.empty(shape) for key in _ANGLES}
    a, b = ({key: np.empty(shape) for key in _MOMENTS} for _ in range(2))
    problem = np.empty(shape[:2], dtype=np.int64)
    step = max(1, CHUNK_POINTS // (shape[1] * heights))
    for first in range(0, len(body), step):
        rows = slice(first, first + step)
        r, p = pull_postures(body.rows(rows), setups, heights)
        moments = moments_of(r.body, r.setups, p, push)
        problem[rows] = problem_of(r, p)
        for key in _ANGLES:
            posture[key][rows] = getattr(p, key)
        for key in _MOMENTS:
            line = getattr(moments, key)
            a[key][rows], b[key][rows] = line.a, line.b
    return SquadPulls(posture, a, b, problem)
