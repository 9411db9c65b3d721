"""Is the stated direction of style honest, and how many of a squad are told to try? Simulated lifters, vectorised.

Run `python -m tests.benchmarks.calibrate_style [lifters]`; the tables go to docs/calibration-style.md.
"""

from __future__ import annotations

import sys
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from analysis.core.decision.answer import answer
from analysis.core.estimates.normal import normal_cdf
from analysis.core.records.decision import (
    ActionKind,
    BuildScore,
    Candidate,
    DecisionFacts,
    HealthFacts,
    LinkPosterior,
    StyleResult,
)
from analysis.core.styles.belief import StyleWeights, moments

SEED = 20261129
RELIABILITY, BUILD_RELIABILITY = 0.6, 0.5  # of the links after twelve weeks, of build before own posture is marked
Z80 = 1.2815515655446004
SAID_LOW, SAID_HIGH = 0.40, 0.60  # a direction is said outside these chances


@dataclass(frozen=True)
class Truth:
    """Weights of legs over back and of build in the simulated world; doubt: drawn for each lifter as assumed."""

    name: str
    legs: float
    build: float
    doubt: bool = False


TRUTHS = (
    Truth("as assumed", 0.30, 0.15, True),
    Truth("legs weigh as much as mechanics says (0.60)", 0.60, 0.15),
    Truth("legs tell nothing", 0.0, 0.15),
    Truth("build has the other sign", 0.30, -0.15),
    Truth("build has the other sign, legs tell nothing", 0.0, -0.15),
    Truth("neither tells anything", 0.0, 0.0),
)


def simulate(truth: Truth, lifters: int, rng):
    """Shown L and Z (posterior means) and the true d of each lifter."""
    shown_legs = np.sqrt(RELIABILITY) * rng.standard_normal(lifters)
    shown_build = np.sqrt(BUILD_RELIABILITY) * rng.standard_normal(lifters)
    weights = StyleWeights.of()
    legs, build = np.full(lifters, truth.legs), np.full(lifters, truth.build)
    if truth.doubt:
        legs = rng.normal(weights.legs, weights.legs_sd, lifters)
        build = rng.normal(weights.build, weights.build_sd, lifters)
    explained = truth.legs**2 * RELIABILITY + truth.build**2 * BUILD_RELIABILITY
    rest = weights.spread * np.sqrt(1.0 - explained)
    true = weights.spread * (legs * shown_legs + build * shown_build) + rest * rng.standard_normal(lifters)
    return shown_legs, shown_build, true


def honesty(truth: Truth, lifters: int, rng):
    """Share said, chance stated, share right among those, cover of the 80 % range over all."""
    legs, build, true = simulate(truth, lifters, rng)
    mean, sd = moments(legs, RELIABILITY, build, BUILD_RELIABILITY, StyleWeights.of())
    better = normal_cdf(mean / sd)
    said = (better < SAID_LOW) | (better > SAID_HIGH)
    surer = np.minimum(np.maximum(better, 1 - better), 0.70)  # no more is ever stated without own results
    right = (true > 0) == (better > 0.5)
    cover = np.abs(true - mean) <= Z80 * sd
    return said.mean(), surer[said].mean(), right[said].mean(), cover.mean(), int(said.sum())


@dataclass(frozen=True)
class Squad:
    """Shares of a simulated squad: sore, wishing two heavy days, style left, results of both, meet ahead, gated."""

    name: str = "mixed club"
    sore: float = 0.10
    wishes: float = 0.08
    left: float = 0.10
    both: float = 0.15
    meet: float = 0.10
    young_or_new: float = 0.20


SQUADS = (
    Squad(),
    Squad("trained adults", young_or_new=0.0),
    Squad("many sore backs", sore=0.25),
    Squad("no reasons besides kilos", sore=0.0, wishes=0.0),
)


def invented(squad: Squad, rng) -> DecisionFacts:
    """One lifter of a squad; in four of ten the link is likely, every one has the usual tests to offer."""
    day = date(2026, 3, 4)
    true = rng.normal(0, 0.08)
    links = LinkPosterior(
        float(np.sqrt(RELIABILITY) * rng.standard_normal()),
        RELIABILITY,
        {"conventional": {"back": 0.72 if rng.random() < 0.4 else 0.5, "hips": 0.25}},
        {"conventional": "back"},
        int(rng.poisson(3.0)),
    )
    return DecisionFacts(
        day,
        standing="beginner" if rng.random() < squad.young_or_new else "trained",
        best_kg=float(rng.normal(160, 35)),
        years={"conventional": float(rng.gamma(2.0, 1.5))},
        links=links,
        build=BuildScore(float(np.sqrt(BUILD_RELIABILITY) * rng.standard_normal()), BUILD_RELIABILITY),
        results=(StyleResult(float(true + rng.normal(0, 0.025)), 0.025),) if rng.random() < squad.both else (),
        health=HealthFacts(back_soreness=6.0 if rng.random() < squad.sore else None),
        wishes_two_heavy_days=bool(rng.random() < squad.wishes),
        left_after_sessions={"sumo": 10} if rng.random() < squad.left else {},
        important_meet=day + timedelta(weeks=int(rng.integers(1, 12))) if rng.random() < squad.meet else None,
        candidates=(Candidate(ActionKind.TEST, "front-squat", 0.098), Candidate(ActionKind.FILM, "film", 0.050)),
    )


def shares(squad: Squad, lifters: int, rng) -> dict[str, float]:
    """Share of each state in a simulated squad, most first."""
    counts: dict[str, int] = {}
    for _ in range(lifters):
        state = str(answer(invented(squad, rng)).state)
        counts[state] = counts.get(state, 0) + 1
    return {state: n / lifters for state, n in sorted(counts.items(), key=lambda item: -item[1])}


def main(lifters: int) -> None:
    print(f"{lifters} simulated lifters a row, seed {SEED}\n")
    print("| if the truth is | a direction is said | stated | right (SE) | 80 % range covers |\n|---|---|---|---|---|")
    for number, truth in enumerate(TRUTHS):
        said, stated, right, cover, count = honesty(truth, lifters, np.random.default_rng([SEED, number]))
        error = np.sqrt(right * (1 - right) / count)
        print(f"| {truth.name} | {said:.3f} | {stated:.3f} | {right:.3f} ({error:.3f}) | {cover:.3f} |")
    size = max(lifters // 50, 100)
    print(f"\nSquads of {size} simulated lifters, seed {SEED}\n")
    print("| squad | told to try (SE) | other states |\n|---|---|---|")
    for number, squad in enumerate(SQUADS):
        found = shares(squad, size, np.random.default_rng([SEED, 100 + number]))
        told = found.pop("offered-trial", 0.0)
        rest = ", ".join(f"{state} {share:.2f}" for state, share in found.items())
        print(f"| {squad.name} | {told:.3f} ({np.sqrt(told * (1 - told) / size):.3f}) | {rest} |")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 200_000)
