"""What this body alone says of sumo against conventional: predicted bests at average strength, standardised.

d = ln(best in sumo / best in conventional) with every link at the mean of its prior, at the lifter's own or usual
stances. Between bodies d is driven by the moment arm and the length of the pull, which therefore enter once. Mean and
SD: 1,000 drawn bodies of each sex at usual stances, 2026-11-27 (calibration; men 0.005, SD 0.028, women -0.012, 0.016).
"""

from __future__ import annotations

from collections.abc import Mapping
from math import log

import numpy as np

from analysis.core.pull.own_posture import taped
from analysis.core.records.bodies import BodyInput
from analysis.core.records.decision import BuildScore
from analysis.core.records.postures import OwnPosture
from analysis.core.strength.demand_table import PRIOR_MEAN, KindAsked, demand_table, predicted_bests

MEAN = {"m": 0.005, "f": -0.012}
SD = 0.024
FARTHEST = 3.0  # SD; a body beyond is told as this far
UNSEEN, SEEN = 0.5, 0.9  # reliability: usual stances, stance and toes measured in both styles


def build_score(body: BodyInput, own: Mapping[str, OwnPosture] | None = None) -> BuildScore:
    """The score shrunk by its reliability, + for sumo; CoreError when this body cannot take a stance."""
    known = own or {}
    asked = [KindAsked(style, style=style, own=known.get(style)) for style in ("conventional", "sumo")]
    conventional, sumo = predicted_bests(demand_table(body, asked, draws=1), np.exp(PRIOR_MEAN))
    z = (log(sumo / conventional) - MEAN[body.sex]) / SD
    measured = all(style in known and taped(known[style].covariance) for style in ("conventional", "sumo"))
    reliability = SEEN if measured else UNSEEN
    return BuildScore(min(max(z, -FARTHEST), FARTHEST) * reliability, reliability)
