"""Men as they were measured, not drawn: their links straight from their landmark heights."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np

from analysis.core.body import constants as c
from analysis.core.body.body import Body

FILE = Path(__file__).resolve().parents[1] / "fixtures" / "measurements" / "measured_men.csv"


def measured_bodies() -> Body:
    """The measured men of the fixture, arrays of shape (men,)."""
    with FILE.open(encoding="utf-8", newline="") as lines:
        rows = list(csv.DictReader(line for line in lines if line[0] != "#"))
    of = {key: np.array([float(row[key]) for row in rows]) / (1.0 if key == "mass" else 100.0) for key in rows[0]}
    shoulder = of["acromial_height"] - c.ACROMION_TO_SHOULDER_CENTRE_M
    return Body(
        male=np.ones(len(rows), bool),
        mass=of["mass"],
        ankle=of["lateral_malleolus_height"],
        shank=of["tibiale_height"] - of["lateral_malleolus_height"],
        thigh=of["trochanterion_height"] - of["tibiale_height"],
        trunk=shoulder - of["trochanterion_height"],
        arm=shoulder - of["standing_grip_height"],
        foot=of["foot_length"],
        hip_spacing=c.HIP_SPACING_OF_HIP_BREADTH * of["hip_breadth"],
        shoulder_spacing=c.SHOULDER_SPACING_OF_BIACROMIAL * of["biacromial_breadth"],
    )


def measured_statures() -> np.ndarray:
    """Their statures, m, in the same order."""
    with FILE.open(encoding="utf-8", newline="") as lines:
        rows = csv.DictReader(line for line in lines if line[0] != "#")
        return np.array([float(row["stature"]) / 100.0 for row in rows])
