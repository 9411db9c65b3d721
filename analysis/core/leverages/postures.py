"""The postures at the ends of the range: which bodies and habits that fit what is known stand nearest and furthest."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from analysis.core.body.anthropometry import drawn_bodies
from analysis.core.leverages.style_reports import LIFT_OFF, events_of, joint_places
from analysis.core.pull.setups import drawn_setups
from analysis.core.records.bodies import BodyInput
from analysis.core.records.pulls import LeverageReport

FloatArray = npt.NDArray[np.float64]
ENDS = (10.0, 90.0)  # percentiles: the central 80 %


def range_postures(
    body: BodyInput, report: LeverageReport, seed: int = 0
) -> dict[str, tuple[dict[str, FloatArray], ...]]:
    """By style the lift-off joints (m, x forward, y to the side, z up) of two draws of body and habits.

    They are the draws whose hip-to-bar distance lies nearest to the ends of the 80 % range; `seed` must be the
    report's.
    """
    bodies = drawn_bodies(body, report.draws, seed)
    found = {}
    for style in report.styles:
        if style.setup is None or not style.draws:
            continue
        drawn = style.draws["hip_bar_distance_m"][1:]
        away = np.abs(drawn - np.nanpercentile(drawn, ENDS)[:, None])
        picked = 1 + np.nanargmin(away, axis=1)
        habits = drawn_setups([style.setup], bodies, seed)
        two = bodies.mapped(lambda array, rows=picked: array[rows])  # type: ignore[misc]
        arrays = habits.mapped(lambda array, rows=picked: array[rows] if array.ndim > 1 else array)  # type: ignore[misc]
        r, events, _ = events_of(two, [style.setup], arrays, report.load_kg)
        places = joint_places(r, events)
        found[style.name] = tuple({name: xyz[i, 0, LIFT_OFF] for name, xyz in places.items()} for i in range(2))
    return found
