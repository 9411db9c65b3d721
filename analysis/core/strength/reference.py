"""Strength at multiplier 1: of a healthy untrained adult of this mass, height, sex and age (both legs, N m)."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from analysis.core.body import constants as body_constants
from analysis.core.body.body import Body
from analysis.core.strength import constants as c
from athletes.schema.units import GRAVITY

FloatArray = npt.NDArray[np.float64]


def stature_of(body: Body) -> FloatArray:
    """Stature in m from the links up to the shoulder (ANSUR II's share of the acromial height)."""
    shoulder = body.ankle + body.shank + body.thigh + body.trunk + body_constants.ACROMION_TO_SHOULDER_CENTRE_M
    return np.asarray(shoulder / c.ACROMION_SHARE)


def reference_strength(body: Body, age: float | None = None) -> FloatArray:
    """Greatest moment of hip, knee, adductors and trunk at multiplier 1, N m, 4 x athletes.

    Hip and knee: Anderson 2007, C1 x weight x height x 2 legs, linear between the two age groups; trunk: Graves
    1990, fully flexed; adductors by mass. Ages under the young group count as it; None counts as young.
    """
    size = body.mass * GRAVITY * stature_of(body)
    past = float(np.clip(((age or c.YOUNG_AGE) - c.YOUNG_AGE) / (c.OLDER_AGE - c.YOUNG_AGE), 0.0, 1.3))

    def aged(man: tuple[float, float], woman: tuple[float, float]) -> FloatArray:
        young = np.where(body.male, man[0], woman[0])
        return np.asarray(young + past * (np.where(body.male, man[1], woman[1]) - young))

    hip = 2.0 * size * aged((c.HIP_YOUNG_MAN, c.HIP_OLDER_MAN), (c.HIP_YOUNG_WOMAN, c.HIP_OLDER_WOMAN))
    knee = 2.0 * size * aged((c.KNEE_YOUNG_MAN, c.KNEE_OLDER_MAN), (c.KNEE_YOUNG_WOMAN, c.KNEE_OLDER_WOMAN))
    trunk = size * c.TRUNK_PER_SIZE * (1.0 - past * c.TRUNK_AGE_LOSS)
    return np.stack([hip, knee, 2.0 * c.ADDUCTOR_PER_KG * body.mass, trunk])


def grip_reference(body: Body, grip: str, straps: bool) -> FloatArray:
    """Load the hands hold at multiplier 1, kg, per athlete; inf with straps. Unknown grip counts as mixed or hook."""
    if straps:
        return np.full(body.mass.shape, np.inf)
    held = body.mass * np.where(body.male, c.GRIP_MAN, c.GRIP_WOMAN)
    return np.asarray(held * (c.GRIP_DOUBLE_OVERHAND if grip == "double-overhand" else 1.0))
