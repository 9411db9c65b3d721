"""Which habit of a lifter, measured next, would narrow an answer most."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from analysis.core.body.anthropometry import drawn_bodies
from analysis.core.body.body import Body
from analysis.core.leverages.style_reports import moments_in, quantities
from analysis.core.pull.pull import postures_at, rig_of
from analysis.core.pull.setups import filled_setup, setups_of_habits, usual_stances
from analysis.core.records.bodies import BodyInput
from analysis.core.records.postures import HABITS
from analysis.core.records.pulls import Setup, SetupInput

FloatArray = npt.NDArray[np.float64]

# how a habit is measured: words, and its standard deviation then (m, rad); girdle reach cannot be seen from outside
MEASURED_BY: dict[str, tuple[str, float]] = {
    "stance_m": ("stance by tape, heel middle to heel middle", 0.02),
    "turnout_rad": ("how far the toes turn out", math.radians(5.0)),
    "arm_ahead_rad": ("arms just before the bar leaves the floor, from the side", math.radians(2.5)),
    "bar_ahead_m": ("which part of the foot the bar stands over", 0.012),
    "shin_gap_m": ("gap between bar and shin at the start", 0.005),
    "spinal_flexion_rad": ("shape of the back as the bar leaves the floor", math.radians(8.0)),
    "drift_m": ("how far the bar comes back to the knee", 0.012),
    "lead_rad": ("whether the knees straighten early or late", math.radians(4.0)),
    "arms_at_knee_rad": ("arms as the bar passes the knee, from the side", math.radians(2.5)),
}
STEP_SHARE = 0.1  # of a habit's standard deviation, for the slope of the answer


@dataclass(frozen=True, slots=True)
class Narrowing:
    """One habit in one style, and the standard deviation of the answer before and after it is measured."""

    style: str
    habit: str
    words: str
    before: float
    after: float


def narrowing(
    body: BodyInput, asked: Sequence[SetupInput], key: str = "hip_bar_distance_m", load_kg: float = 200.0
) -> tuple[Narrowing, ...]:
    """Every habit that can be measured, the one that narrows the answer most first.

    The answer is a quantity at lift-off (a key of style_reports.quantities) of one setup, or of the second less the
    first of two. Its variance is g' C g with the slope g over the habits and their covariance C; measuring habit i to
    s takes (C g)_i^2 / (C_ii + s^2) off it. Habits alone: what is not known of the body is left out.
    """
    bodies = drawn_bodies(body, 0)
    stances = usual_stances(bodies)
    setups = [filled_setup(one, stances) for one in asked]
    signs = (1.0,) if len(setups) == 1 else (-1.0, 1.0)
    covariances = [np.array(setup.covariance) for setup in setups]
    slopes = [
        sign * _slope(bodies, setup, covariance, key, load_kg)
        for sign, setup, covariance in zip(signs, setups, covariances, strict=True)
    ]
    variance = float(sum(g @ covariance @ g for g, covariance in zip(slopes, covariances, strict=True)))
    found = []
    for setup, slope, covariance in zip(setups, slopes, covariances, strict=True):
        for habit, (words, sd) in MEASURED_BY.items():
            at = HABITS.index(habit)
            gain = float((covariance @ slope)[at] ** 2 / (covariance[at, at] + sd**2))
            after = math.sqrt(max(variance - gain, 0.0))
            found.append(Narrowing(setup.preset, habit, words, math.sqrt(variance), after))
    return tuple(sorted(found, key=lambda one: one.after))


def _slope(bodies: Body, setup: Setup, covariance: FloatArray, key: str, load_kg: float) -> FloatArray:
    """Slope (10,) of a quantity at lift-off over the habits; 0 for a habit that is exact."""
    step = STEP_SHARE * np.sqrt(np.diag(covariance))
    middle = np.array([getattr(setup, habit) for habit in HABITS])
    habits = middle + np.concatenate([np.diag(step), -np.diag(step)])
    r = rig_of(bodies, setups_of_habits(habits[None], setup))
    p = postures_at(r, r.setups.start_height + 0.0 * r.knee_z)
    value = quantities(p, moments_in(r, p, 0.5), load_kg)[key][0, :, 0]
    up, down = np.split(value, 2)
    return np.where(step > 0.0, (up - down) / np.where(step > 0.0, 2.0 * step, 1.0), 0.0)
