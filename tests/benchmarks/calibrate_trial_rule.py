"""Simulated trials decided by expected gain, with and without the old style kept: adoption, regret and cover.

Run `python -m tests.benchmarks.calibrate_trial_rule [lifters] [file]`; the table goes to docs/calibration-trials.md.
Each cell is written to the file (one JSON line) as soon as it is done, and a second run goes on where the first ended.
"""

from __future__ import annotations

import json
import sys
from dataclasses import dataclass, replace
from pathlib import Path
from tempfile import gettempdir

import numpy as np

from analysis.core.settings import DEFAULTS, Settings
from analysis.core.trials.heading import DIFFERENCE_ONLY
from analysis.core.trials.model import TrialData, TrialPrior, infer
from analysis.core.trials.rule import expected_gain

SEED = 20261130
DAY_SD, MEASURE_SD = 0.020, 0.029  # together 3.5 %, as the model's noise
NOISE = float(np.hypot(DAY_SD, MEASURE_SD))
BEFORE_WEEKS, WEEKS, LONG_WEEKS, A_WEEK = 6, 12, 16, 1.5


@dataclass(frozen=True)
class World:
    """How simulated lifters differ from what the model assumes."""

    name: str = "as assumed"
    dip_mean: float = -0.15
    dip_sd: float = 0.08
    tau: float = 8.0
    trend_sd: float = 0.002
    tail: bool = False
    noise_times: float = 1.0
    shared: float = 0.7  # share of the day's effect common to both styles
    rated_easy: float = 0.0  # new style's estimates too high by this
    day_memory: float = 0.0  # correlation of one day's effect with the next


WORLDS = (
    World(),
    World("dip 5 %", dip_mean=-0.05, dip_sd=0.03),
    World("dip 25 %", dip_mean=-0.25, dip_sd=0.05),
    World("tau 14", tau=14.0),
    World("tau 4", tau=4.0),
    World("trends 0.5 % a week", trend_sd=0.005),
    World("heavy tails", tail=True),
    World("own noise x 1.5", noise_times=1.5),
    World("day effects of styles unrelated", shared=0.0),
    World("new style rated 1.5 % too easy", rated_easy=0.015),
    World("days correlated 0.6", day_memory=0.6),
)


@dataclass(frozen=True)
class Trials:
    """Values (lifters, n) with their design (n,) and each lifter's noise in older tests over the usual one."""

    y: np.ndarray
    is_new: np.ndarray
    exposures: np.ndarray
    weeks: np.ndarray
    partner: np.ndarray
    noise_ratio: np.ndarray


def days_of(old_kept: bool):
    """(is_new, exposures, weeks, partner, day number) of every value of a 16-week trial."""
    before = np.linspace(-BEFORE_WEEKS, -1, 6)
    new_weeks = np.arange(int(LONG_WEEKS * A_WEEK)) / A_WEEK + 0.3
    rows = [(0.0, 0.0, w, -1, k) for k, w in enumerate(before)]
    for k, week in enumerate(new_weeks):
        rows.append((1.0, float(k), week, -1, 6 + k))
        if old_kept and k % 3 == 1:  # twice a month at 1.5 sessions a week, on a day of the new style
            rows.append((0.0, 0.0, week, len(rows) - 1, 6 + k))
    return tuple(np.array(c) for c in zip(*rows, strict=True))


def simulate(truth, rng, world: World, old_kept: bool) -> Trials:
    """Trials of lifters whose trained log difference is `truth`, shape (lifters,)."""
    is_new, exposures, weeks, partner, day = days_of(old_kept)
    n, days = truth.size, int(day.max()) + 1
    tau = world.tau * np.exp(0.4 * rng.standard_normal(n))
    dip = np.log1p(np.clip(rng.normal(world.dip_mean, world.dip_sd, n), -0.6, 0.3))
    trend = rng.normal(0, world.trend_sd, n)
    common, own = rng.standard_normal((n, days)), rng.standard_normal((2, n, days))
    for k in range(1, days):
        common[:, k] = world.day_memory * common[:, k - 1] + np.sqrt(1 - world.day_memory**2) * common[:, k]
    style = is_new.astype(int)
    effect = np.sqrt(world.shared) * common[:, day] + np.sqrt(1 - world.shared) * own[style, :, day].T
    size = (n, weeks.size)
    measured = rng.standard_t(4, size) / np.sqrt(2.0) if world.tail else rng.standard_normal(size)
    noise = world.noise_times * (DAY_SD * effect + MEASURE_SD * measured)
    curve = truth[:, None] + dip[:, None] * np.exp(-exposures / tau[:, None]) + world.rated_easy
    y = np.log(180.0) + is_new * curve + trend[:, None] * weeks + noise
    ratio = world.noise_times * np.sqrt(rng.chisquare(16, n) / 16)
    return Trials(y, is_new, exposures, weeks, partner.astype(int), ratio)


def look(trials: Trials, week: float, mean: float, sd: float, shared: float, settings: Settings = DEFAULTS):
    """Posterior of every lifter from what is logged by `week`."""
    inside = trials.weeks <= week
    y = trials.y[:, inside]
    wide = [np.broadcast_to(a[inside], y.shape) for a in (trials.is_new, trials.exposures, trials.weeks)]
    data = TrialData(y, *wide, np.full(y.shape, NOISE), trials.partner[inside], shared)
    return infer(data, settings, before=TrialPrior(mean, sd, trials.noise_ratio))


def cell(truth, rng, world: World, old_kept: bool, mean: float, sd: float, settings: Settings = DEFAULTS):
    """Adoption by G > 2 B at 12 weeks, with 16 when unclear, by the old threshold; regret, cover, went on."""
    trials = simulate(truth, rng, world, old_kept)
    shared = DEFAULTS["trial.day_shared"] * DAY_SD**2 / NOISE**2
    early = look(trials, WEEKS, mean, sd, shared, settings)
    gain = expected_gain(early)
    at_12 = gain.adopts()
    by_threshold = early.chance_above(DIFFERENCE_ONLY, np.log1p(0.02)) >= DEFAULTS["trial.adopt_chance"]
    goes_on = gain.regret() > DEFAULTS["trial.regret_most"]
    late_trials = replace(trials, y=trials.y[goes_on], noise_ratio=trials.noise_ratio[goes_on])
    adopted = at_12.copy()
    if goes_on.any():
        adopted[goes_on] = expected_gain(look(late_trials, LONG_WEEKS, mean, sd, shared, settings)).adopts()
    low, high = early.quantile(DIFFERENCE_ONLY, 0.1), early.quantile(DIFFERENCE_ONLY, 0.9)
    loss = np.where(adopted, 2 * np.maximum(-truth, 0), np.maximum(truth, 0))
    return {
        "adopt_12": float(at_12.mean()),
        "adopt": float(adopted.mean()),
        "threshold": float(by_threshold.mean()),
        "goes_on": float(goes_on.mean()),
        "regret": float(loss.mean()),
        "cover": float(((low <= truth) & (truth <= high)).mean()),
    }


HALF_LEAN, WHOLE_LEAN = 0.021, 0.042  # prior means of the surest lean (7 in 10 of SD 8 %), halved and whole


def cells():
    """Every cell: (world number, old style kept, prior mean, truth name)."""
    for mean, kept, truths in (
        (HALF_LEAN, True, ("-5 %", "+5 %", "drawn")),
        (0.0, True, ("-5 %", "+5 %", "drawn")),
        (WHOLE_LEAN, True, ("-5 %",)),
        (0.0, False, ("-5 %", "+5 %", "drawn")),
    ):
        for number in range(len(WORLDS)):
            for truth in truths:
                yield number, kept, mean, truth


def main(lifters: int, path: Path) -> None:
    done = {}
    if path.exists():
        done = {tuple(row["key"]): row for row in map(json.loads, path.read_text().splitlines())}
    for number, kept, mean, name in cells():
        key = (number, kept, mean, name, lifters)
        if key in done:
            continue
        rng = np.random.default_rng([SEED, number, int(kept), int(1e4 * mean), len(name), name.startswith("-")])
        sd = 0.08
        drawn = rng.normal(mean, sd, lifters)
        truth = {"-5 %": np.full(lifters, np.log(0.95)), "+5 %": np.full(lifters, np.log(1.05)), "drawn": drawn}[name]
        done[key] = {"key": key, **cell(truth, rng, WORLDS[number], kept, mean, sd)}
        with path.open("a") as out:
            out.write(json.dumps(done[key]) + "\n")
    print_tables(done, lifters)


def print_tables(done, lifters: int) -> None:
    for mean, kept in ((0.0, True), (HALF_LEAN, True), (0.0, False)):
        print(
            f"\nOld style {'kept' if kept else 'not kept'}, prior mean {mean:+.1%}, SD 8 %, {lifters} trials a cell\n"
        )
        print("| world | adopts -5 % at 12, with 16 | old threshold | adopts +5 % at 12, with 16 | old threshold |"
              " goes on | regret, drawn | 80 % range covers, drawn |\n|---|---|---|---|---|---|---|---|")  # fmt: skip
        rows = [
            [done[(number, kept, mean, t, lifters)] for t in ("-5 %", "+5 %", "drawn")] for number in range(len(WORLDS))
        ]
        for world, row in zip(WORLDS, rows, strict=True):
            print(f"| {world.name} {cells_of(*row)}")
        columns = list(zip(*rows, strict=True))
        means = [{k: float(np.mean([r[k] for r in column])) for k in column[0] if k != "key"} for column in columns]
        print(f"| mean {cells_of(*means)}")
    whole = [done[(n, True, WHOLE_LEAN, "-5 %", lifters)] for n in range(len(WORLDS))]
    print(f"\nPrior mean {WHOLE_LEAN:+.1%} (not halved), old style kept: adopts -5 % at 12, with 16\n")
    for world, row in zip(WORLDS, whole, strict=True):
        print(f"- {world.name}: {row['adopt_12']:.3f}, {row['adopt']:.3f}")


def cells_of(low, high, drawn) -> str:
    """The cells of one row."""
    return (
        f"| {low['adopt_12']:.3f}, {low['adopt']:.3f} | {low['threshold']:.3f} | {high['adopt_12']:.3f}, "
        f"{high['adopt']:.3f} | {high['threshold']:.3f} | {drawn['goes_on']:.2f} | {drawn['regret']:.2%} "
        f"| {drawn['cover']:.3f} |"
    )


if __name__ == "__main__":
    main(
        int(sys.argv[1]) if len(sys.argv) > 1 else 3000,
        Path(sys.argv[2] if len(sys.argv) > 2 else f"{gettempdir()}/trial-rule.jsonl"),
    )
