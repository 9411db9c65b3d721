"""Simulated meets: stated chances of attempts against how often they are made.

Each simulated lifter trains for months; the running best is fitted to the invented log, the plan is made
from it, and the day's true best decides. Run `python -m tests.benchmarks.calibrate_attempts [lifters]`.
"""

from __future__ import annotations

import sys
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from analysis.core.estimates.one_rep_max import estimate
from analysis.core.estimates.running_best import running_best
from analysis.core.meets import MeetDay, day_best, plan_attempts
from analysis.core.records.lifts import PullTags, SetRecord
from analysis.core.settings import DEFAULTS

BANDS = ((0.0, 0.2), (0.2, 0.4), (0.4, 0.6), (0.6, 0.8), (0.8, 0.9), (0.9, 0.95), (0.95, 1.0))
START = date(2026, 1, 5)
TAGS = PullTags(style="sumo", bar="stiff", grip="mixed")


@dataclass(frozen=True)
class World:
    """What simulated lifters do that the model does not know."""

    name: str = "as the model assumes"
    drift: float = 0.02
    after_bench: float = -0.015
    day_sd: float = 0.025
    slip: float = 0.02
    rpe_bias: float = 0.0  # reps in reserve noted too high by this many


def training(rng, world):
    """An invented log and the true log level at its end; sets of 1 to 5 at RPE 8 to 9 every few days."""
    days = np.cumsum(rng.integers(4, 11, 16))
    level = rng.normal(np.log(170), 0.25) + np.cumsum(
        rng.normal(0, world.drift * np.sqrt(np.diff(days, prepend=0) / 28))
    )
    sets = [_set(rng, world, int(d), float(v)) for d, v in zip(days, level, strict=True)]
    return sets, float(level[-1]), int(days[-1])


def _set(rng, world, on, level):
    reps, reserve = int(rng.integers(1, 6)), float(rng.integers(1, 3))
    spread = 0.03 if reps + reserve <= 3 else 0.05 if reps + reserve <= 5 else 0.09
    noise = rng.normal(0, np.hypot(spread / 1.2816, 0.019))
    load = np.exp(level + noise) / float(estimate(1.0, reps + reserve))
    noted = reserve + world.rpe_bias
    day = START + timedelta(days=on)
    return SetRecord(f"s{on}", day, round(load / 2.5) * 2.5, reps, reps, TAGS, rir_low=noted, rir_high=noted)


def lift(rng, plan, best, world):
    """(stated, met) of each attempt taken when the plan is followed on a day with this best."""
    branch, taken = plan.root, []
    for attempt in range(3):
        if branch is None:
            break
        reach = best * (1 - DEFAULTS["meet.attempt_cost"]) ** attempt >= branch.load_kg
        made = bool(reach and rng.random() >= world.slip)
        taken.append((branch.chance, made))
        branch = branch.if_made if made else branch.if_missed
    return taken


def simulate(lifters, rng, world=World()):
    """All attempts of many meets: arrays of stated chance and result, by place (1 to 3)."""
    stated, met, place, thin = [], [], [], 0
    for _ in range(lifters):
        sets, level, last = training(rng, world)
        wait = int(rng.integers(7, 15))
        meet = MeetDay(START + timedelta(days=last + wait), "stiff")
        day = day_best(running_best(sets, meet.day), meet)
        thin += day.thin
        truth = level + rng.normal(0, world.drift * np.sqrt(wait / 28)) + np.log1p(world.after_bench)
        best = np.exp(truth + rng.normal(0, world.day_sd))
        for number, (chance, made) in enumerate(lift(rng, plan_attempts(day)[0], best, world), start=1):
            stated.append(chance)
            met.append(made)
            place.append(number)
    return np.array(stated), np.array(met), np.array(place), thin


def table(stated, met):
    """(band, attempts, mean stated, share met, standard error) for each band with attempts."""
    rows = []
    for low, high in BANDS:
        inside = (stated >= low) & (stated < high)
        if inside.any():
            share = met[inside].mean()
            error = np.sqrt(max(share * (1 - share), 0.01) / inside.sum())
            rows.append((f"{low:.0%} to {high:.0%}", int(inside.sum()), stated[inside].mean(), share, error))
    return rows


WORLDS = (
    World(),
    World("squat and bench cost 4 %", after_bench=-0.04),
    World("days differ more, 4 %", day_sd=0.04),
    World("more slips, 6 %", slip=0.06),
    World("one rep more in reserve noted than there was", rpe_bias=1.0),
)


def main(lifters: int) -> None:
    rng = np.random.default_rng(20261125)
    for world in WORLDS:
        stated, met, place, thin = simulate(lifters, rng, world)
        print(f"\n{world.name} ({lifters} meets, {thin} of them with thin data)\n")
        print("| stated | attempts | mean stated | made | standard error |\n|---|---|---|---|---|")
        for band, n, mean, share, error in table(stated, met):
            print(f"| {band} | {n} | {mean:.3f} | {share:.3f} | {error:.3f} |")
        made = ", ".join(f"{met[place == k].mean():.2f}" for k in (1, 2, 3))
        brier = np.mean((stated - met) ** 2)
        print(f"\nMade, first to third: {made}. Brier score {brier:.4f} (always the mean rate: {met.var():.4f}).")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 2000)
