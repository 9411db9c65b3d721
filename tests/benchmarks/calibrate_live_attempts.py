"""Simulated meets: attempts that read the day against the thumb rule 90 / 95 / 100 % of the level, kg and bombs.

Run `python -m tests.benchmarks.calibrate_live_attempts [lifters]`; the table goes to docs/calibration-attempts.md.
"""

from __future__ import annotations

import sys
from dataclasses import dataclass

import numpy as np

from analysis.core.meets.live import DayBelief, belief_of, call_at, last_call, read_lift, seen_sd, take_result
from analysis.core.settings import DEFAULTS, Settings

LEVEL = np.log(180.0)
LEVEL_SD, BIAS_SD, DAY_SD = 0.025, 0.020, 0.027
PRIOR_SD = float(np.sqrt(LEVEL_SD**2 + BIAS_SD**2 + DAY_SD**2))
STEP, SLIP, COST = 2.5, 0.02, 0.005
AFTER_BENCH = DEFAULTS["meet.after_squat_bench"]  # known to the plan; the thumb rule takes shares of the gym's level
WARM_UPS = (0.82, 0.90)  # of the planned opener
SEED = 20261201
ASSUMED = {0.05: DEFAULTS["meet.read_easy_sd"]}  # what the plan takes for a warm-up of 5 %


@dataclass(frozen=True)
class World:
    """How the day's best departs from the gym's level: SDs (log) and the mean cost of squat and bench."""

    name: str
    bias_sd: float = BIAS_SD
    day_sd: float = DAY_SD
    cost: float = AFTER_BENCH


@dataclass(frozen=True)
class News:
    """What is read: error (SD of the best) off a made attempt near the top and off a warm-up; None: not read.

    An attempt's error grows with its distance under the best as the model assumes; `wide` makes a warm-up's grow
    likewise, which the model does not know.
    """

    name: str
    attempts: float | None = None
    warm_ups: float | None = None
    wide: bool = False


WORLDS = (
    World("usual days"),
    World("lifter bias 3.5 %", bias_sd=0.035),
    World("days 4 %", day_sd=0.04),
    World("squat and bench cost 4 %, unknown", cost=-0.04),
)
NEWS = (
    News("plan, no news"),
    News("RPE of made attempts (3 %)", 0.03),
    News("RPE of made attempts, warm-ups with RPE 5 %", 0.03, 0.05),
    News("the same, all RPE 5 %", 0.05, 0.05),
    News("the same, RPE 5 % and a warm-up's error truly 2.5 times as wide", 0.05, 0.05, True),
    News("RPE 3 % in both", 0.03, 0.03),
    News("speed 2 % in both", 0.02, 0.02),
)


def best_of_day(lifters: int, rng, world: World):
    """Log best of each lifter's day; the level is known with its own error."""
    parts = rng.standard_normal((3, lifters)) * np.array([[LEVEL_SD], [world.bias_sd], [world.day_sd]])
    return LEVEL + world.cost + parts.sum(axis=0)


def thumb(best, slips, lowered=0.0):
    """(best kg lifted, bombed) of the thumb rule: a missed load is called again; `lowered` (log) off the level."""
    loads = np.floor(np.exp(LEVEL + lowered) * np.array([0.90, 0.95, 1.00]) / STEP) * STEP
    place, lifted = np.zeros(best.size, int), np.zeros(best.size)
    for attempt in range(3):
        load = loads[place]
        made = (np.exp(best) * (1 - COST) ** attempt >= load) & ~slips[attempt]
        lifted, place = np.where(made, load, lifted), place + made
    return lifted, lifted == 0


def read(belief: DayBelief, best, at, error, assumed, rng, where=None) -> DayBelief:
    """The belief after one lift at log load `at` with the true and the assumed error; `where` keeps it to some."""
    seen = best + rng.standard_normal(best.size) * error
    after = read_lift(belief, seen, assumed)
    if where is None:
        return after
    return DayBelief(belief.values, np.where(where[:, None], after.weights, belief.weights))


def ours(best, slips, rng, news: News, settings: Settings = DEFAULTS):
    """(best kg lifted, bombed) of attempts that read the day."""
    belief = belief_of(np.full(best.size, LEVEL + AFTER_BENCH), np.full(best.size, PRIOR_SD))
    planned = call_at(belief, 0, False, settings)
    if news.warm_ups is not None:
        for share in WARM_UPS:
            at = planned + np.log(share)
            error = seen_sd(best, at, news.warm_ups, settings) if news.wide else news.warm_ups
            assumed = np.full(best.size, ASSUMED.get(news.warm_ups, news.warm_ups))
            belief = read(belief, best, at, error, assumed, rng)
    lifted, least = np.zeros(best.size), np.zeros(best.size)
    for attempt in range(3):
        with_news = news.warm_ups is not None or (news.attempts is not None and attempt > 0)
        if attempt == 2:
            load = last_call(belief, least, lifted, settings)
        else:
            aim = np.exp(call_at(belief, attempt, with_news, settings))
            if attempt == 0:
                aim = np.minimum(aim, settings["meet.opener_most"] * np.exp(LEVEL + AFTER_BENCH))
            load = np.maximum(np.floor(aim / STEP + 0.5) * STEP, least)
        today = best + attempt * np.log1p(-COST)
        made = (np.exp(today) >= load) & ~slips[attempt]
        lifted, least = np.where(made, load, lifted), np.where(made, load + STEP, load)
        if news.attempts is not None:
            at = np.log(load)
            errors = (seen_sd(middle, at, news.attempts, settings) for middle in (today, belief.mean))
            belief = read(belief, today, at, *errors, rng, made)
        belief = take_result(belief, np.log(load), made, settings)
    return lifted, lifted == 0


def compare(lifters: int, seed, world: World, news: News, settings: Settings = DEFAULTS):
    """Gain over the thumb rule (kg, SE), bombs of ours and of the thumb rule, on the same days and slips."""
    rng = np.random.default_rng(seed)
    best, slips = best_of_day(lifters, rng, world), rng.random((3, lifters)) < SLIP
    thumbed, thumb_bombs = thumb(best, slips)
    lifted, bombs = ours(best, slips, rng, news, settings)
    gain = lifted - thumbed
    return gain.mean(), gain.std() / np.sqrt(lifters), bombs.mean(), thumb_bombs.mean()


def main(lifters: int) -> None:
    print(f"{lifters} lifters at 180 kg a cell, seed {SEED}: kg over the thumb rule (bombs; thumb rule's bombs)\n")
    print("| news | " + " | ".join(w.name for w in WORLDS) + " |\n|---|" + "---|" * len(WORLDS))
    for news in NEWS:
        cells = []
        for number, world in enumerate(WORLDS):
            gain, error, bombs, thumbs = compare(lifters, [SEED, number], world, news)
            cells.append(f"{gain:+.1f} +- {error:.1f} ({bombs:.2%}; {thumbs:.2%})")
        print(f"| {news.name} | " + " | ".join(cells) + " |", flush=True)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 20000)
