"""Trials that are not of a style: a change of grip and a cue, each with its own length and measure of success."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from analysis.core.settings import DEFAULTS, Settings


class TrialKind(StrEnum):
    """What is tried."""

    STYLE = "style"
    GRIP = "grip"
    CUE = "cue"


@dataclass(frozen=True, slots=True)
class TrialShape:
    """Weeks until the decision and until the first look, sessions wanted, whether a first-day dip is expected."""

    kind: TrialKind
    weeks: float
    first_look_weeks: float
    sessions: float
    dips: bool


def shape_of(kind: TrialKind, best_kg: float | None = None, settings: Settings = DEFAULTS) -> TrialShape:
    """The usual shape of a trial (settings, common practice); a style takes longer for a very strong lifter."""
    first, rate = settings["trial.first_test_weeks"], settings["trial.sessions_a_week"]
    if kind == TrialKind.GRIP:
        weeks = settings["trial.grip_weeks"]
        return TrialShape(kind, weeks, first, weeks * rate, dips=True)
    if kind == TrialKind.CUE:
        sessions = settings["trial.cue_sessions"]
        return TrialShape(kind, sessions / rate, min(first, sessions / rate), sessions, dips=False)
    heavy = best_kg is not None and best_kg > settings["trial.heavy_from"]
    weeks = settings["trial.weeks_heavy" if heavy else "trial.weeks"]
    return TrialShape(kind, weeks, settings["trial.weeks_least"], weeks * rate, dips=True)


GRID = np.linspace(0.0005, 0.9995, 1000)


def chance_fault_rarer(faults_before: int, seen_before: int, faults_after: int, seen_after: int) -> float:
    """Chance that a fault (a grip that opens, hips that shoot up) became rarer, from counts of heavy sets seen.

    Both shares have flat priors, so each is a beta distribution; the chance is summed over a grid of the first.
    """
    for faults, seen in ((faults_before, seen_before), (faults_after, seen_after)):
        if not 0 <= faults <= seen:
            raise ValueError(f"{faults} faults in {seen} sets seen cannot be")
    before = GRID**faults_before * (1.0 - GRID) ** (seen_before - faults_before)
    after = GRID**faults_after * (1.0 - GRID) ** (seen_after - faults_after)
    before, after = before / before.sum(), after / after.sum()
    below = np.cumsum(after) - 0.5 * after
    return float(np.sum(before * below))
