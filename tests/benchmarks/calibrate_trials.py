"""Simulated style trials: how often the words adopt and drop are wrong, and whether the ranges cover.

Run `python -m tests.benchmarks.calibrate_trials [lifters]`; the tables go to docs/calibration-trials.md.
"""

from __future__ import annotations

import sys
from dataclasses import dataclass

import numpy as np

from analysis.core.settings import DEFAULTS, Settings
from analysis.core.trials.heading import DIFFERENCE_ONLY, chances
from analysis.core.trials.model import TrialData, infer

WEEKS, PULLS, NOISE, LOOKS = 12, 18, 0.035, (8, 9, 10, 11, 12)
BASELINE_PULLS, BASELINE_WEEKS = 6, 6


@dataclass(frozen=True)
class World:
    """How simulated lifters differ from what the model assumes."""

    name: str = "as the model assumes"
    dip_mean: float = -0.15
    dip_sd: float = 0.08
    tau: float = 8.0
    tau_spread: float = 0.4
    trend_sd: float = 0.002
    tail: bool = False  # noise with heavy tails (t, 4 degrees of freedom, same SD)
    old_kept: int = 0  # estimates in the old style during the trial


def simulate(true_difference, rng, world=World()):
    """Values of baseline and trial for each lifter; true_difference is a share, shape (lifters,)."""
    n = len(true_difference)
    before = np.linspace(-BASELINE_WEEKS, -1, BASELINE_PULLS)
    kept = (np.arange(world.old_kept) + 0.5) * WEEKS / max(world.old_kept, 1)
    weeks = np.concatenate([before, kept, np.arange(PULLS) * WEEKS / PULLS + 0.3])
    old = BASELINE_PULLS + world.old_kept
    is_new = np.repeat([0.0, 1.0], [old, PULLS])
    exposures = np.concatenate([np.zeros(old), np.arange(PULLS)])
    tau = world.tau * np.exp(world.tau_spread * rng.standard_normal(n))
    dip = np.log1p(np.clip(rng.normal(world.dip_mean, world.dip_sd, n), -0.6, 0.3))
    trend = rng.normal(0, world.trend_sd, n)
    size = (n, weeks.size)
    noise = NOISE * (rng.standard_t(4, size) / np.sqrt(2.0) if world.tail else rng.standard_normal(size))
    curve = np.log1p(true_difference)[:, None] + dip[:, None] * np.exp(-exposures / tau[:, None])
    y = np.log(180.0) + is_new * curve + trend[:, None] * weeks + noise
    return y, is_new, exposures, weeks


def look(y, is_new, exposures, weeks, week, settings: Settings = DEFAULTS):
    """Posterior of every lifter given what was logged by `week`."""
    seen = np.where(weeks <= week, y, np.nan)
    shape = seen.shape
    data = TrialData(
        seen,
        np.broadcast_to(is_new, shape),
        np.broadcast_to(exposures, shape),
        np.broadcast_to(weeks, shape),
        np.full(shape, NOISE),
    )
    return infer(data, settings)


def outcome(true_difference, lifters, rng, world=World(), settings: Settings = DEFAULTS):
    """Shares of lifters ever called adopt or drop, the word at week 12, and the cover of the 80 % range."""
    truth = np.full(lifters, true_difference) if np.isscalar(true_difference) else true_difference
    trial = simulate(truth, rng, world)
    adopted, dropped = np.zeros(truth.size, bool), np.zeros(truth.size, bool)
    for week in LOOKS:
        posterior = look(*trial, week, settings)
        better, worse = chances(posterior, settings)
        adopts = (better >= settings["trial.adopt_chance"]) & ~dropped
        drops = (worse >= settings["trial.drop_chance"]) & ~adopted
        adopted, dropped = adopted | adopts, dropped | drops
    low, high = posterior.quantile(DIFFERENCE_ONLY, 0.1), posterior.quantile(DIFFERENCE_ONLY, 0.9)
    covered = (low <= np.log1p(truth)) & (np.log1p(truth) <= high)
    return {
        "adopt": adopted.mean(),
        "drop": dropped.mean(),
        "extend": 1 - adopted.mean() - dropped.mean(),
        "cover": covered.mean(),
        "width": np.mean(high - low),
    }


WORLDS = (
    World(),
    World("dip of 5 % only", dip_mean=-0.05, dip_sd=0.03),
    World("dip of 25 %", dip_mean=-0.25, dip_sd=0.05),
    World("slow learners, tau about 14", tau=14.0),
    World("fast learners, tau about 4", tau=4.0),
    World("stronger trends, 0.5 % a week", trend_sd=0.005),
    World("heavy-tailed noise", tail=True),
    World("old style kept lightly: six estimates in twelve weeks", old_kept=6),
    World("the same with trends of 0.5 % a week", trend_sd=0.005, old_kept=6),
)


def main(lifters: int) -> None:
    rng = np.random.default_rng(20261125)
    head = "| truth | ever adopt | ever drop | undecided = extend | 80 % range covers | width |"
    for world in WORLDS:
        print(f"\n{world.name}\n\n{head}\n|---|---|---|---|---|---|")
        rows = [(f"{d:+.0%}", d) for d in (-0.10, -0.05, -0.02, 0.0, 0.02, 0.05, 0.10)]
        rows.append(("drawn, SD 6 %", np.expm1(rng.normal(0, DEFAULTS["trial.difference_sd"], lifters))))
        for name, truth in rows:
            r = outcome(truth, lifters, rng, world)
            cells = " | ".join(f"{r[k]:.3f}" for k in ("adopt", "drop", "extend", "cover", "width"))
            print(f"| {name} | {cells} |")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 4000)
