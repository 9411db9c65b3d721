"""Simulated lifters for the weak-point estimate: who is right how often, and whether the stated chances are honest.

Run `python -m tests.benchmarks.calibrate_weak_points [lifters a cell]`; the tables go to
docs/calibration-weak-points.md.
"""

from __future__ import annotations

import sys
import time
from concurrent.futures import Executor, ProcessPoolExecutor
from dataclasses import replace

import numpy as np

from analysis.core.settings import DEFAULTS
from analysis.core.weak_link.next_test import worth_of_tests
from analysis.core.weak_link.posterior import even_bests, limiter_chances
from analysis.core.weak_link.problem import MADE_HEAVY, stack
from analysis.core.weak_link.sampler import sample
from tests.simulated_lifters import KIND, TEST_SD, Plan, slowest_notes, squad, stepped, tables
from tests.weak_point_cells import Cell, brier, flatness, log_score, position_baseline, reliability, run_cell

HEAD = (
    "| log | lifters | right | reference | stated | stated - right | in SE | log score | prior's | Brier |\n"
    + "|---" * 10
    + "|"
)
TESTS = ("block", "deficit", "front-squat", "straps", "flexible")


def evidence_plans(style: str) -> dict[str, Plan]:
    """More and more evidence about one style."""
    second = "sumo" if style != "sumo" else "conventional"
    best = Plan(style, (style,))
    return {
        "best alone": best,
        "+ 6 miss positions": replace(best, misses=6),
        "+ what was seen": replace(best, misses=6, seen=True),
        "+ squat": replace(best, misses=6, seen=True, levels=(style, "squat")),
        "+ block and a second style": replace(best, misses=6, seen=True, levels=(style, "squat", "block", second)),
    }


def row(name: str, cell: Cell, prior: float) -> None:
    gap = cell.stated - cell.right
    other = f"{cell.reference_right():.3f}" if cell.reference is not None else "-"
    print(
        f"| {name} | {len(cell.limiter)} | {cell.right:.3f} | {other} | {cell.stated:.3f} | {gap:+.3f} | "
        f"{gap / cell.standard_error:+.1f} | {cell.log_score:.3f} | {prior:.3f} | {cell.brier:.3f} |",
        flush=True,
    )


def prior_score(cell: Cell) -> float:
    """Log score of naming the limiters by their shares alone."""
    share = np.bincount(cell.limiter, minlength=4) / len(cell.limiter)
    return float((share * np.log(np.maximum(share, 1e-4))).sum())


def recovery(lifters: int, pool: Executor) -> dict[tuple[str, str], Cell]:
    """The recovery table, with the reference sampler on the same data."""
    plans = {
        (style, name): plan
        for style in ("conventional", "sumo", "rounded")
        for name, plan in evidence_plans(style).items()
        if style != "rounded" or name == "+ what was seen"
    }
    waiting = {key: pool.submit(run_cell, plan, lifters, reference=True) for key, plan in plans.items()}
    kept = {}
    for (style, name), cell in waiting.items():
        if name == "best alone" or style == "rounded":
            print(f"\n{style}\n\n" + HEAD)
        kept[style, name] = cell.result()
        row(name, kept[style, name], prior_score(kept[style, name]))
    return kept


def ranks_table(kept: dict[tuple[str, str], Cell]) -> None:
    print("\nRanks of the truth (chi-square over its degrees of freedom, 20 bins; 1 is flat, over 1.7 is not)\n")
    print("| cell | hips | legs | back | true best | 80 % range covers |\n|---|---|---|---|---|---|")
    for (style, name), cell in kept.items():
        flat = " | ".join(f"{flatness(cell.ranks[:, i]):.2f}" for i in range(4))
        print(f"| {style}, {name} | {flat} | {cell.covered.mean():.3f} |")


def reliability_tables(kept: dict[tuple[str, str], Cell], lifters: int) -> None:
    for style in ("conventional", "sumo"):
        cell = kept[style, "+ what was seen"]
        train = run_cell(evidence_plans(style)["+ what was seen"], lifters, seed=2, size=0.2)
        base = position_baseline(train, cell)
        print(f"\n{style}, 6 misses with what was seen, against counting positions only\n")
        print("| | right | log score | Brier |\n|---|---|---|---|")
        print(f"| estimate | {cell.right:.3f} | {cell.log_score:.3f} | {cell.brier:.3f} |")
        right = (base.argmax(1) == cell.limiter).mean()
        print(
            f"| positions only | {right:.3f} | {log_score(base, cell.limiter):.3f} | {brier(base, cell.limiter):.3f} |"
        )
        print("\n| stated | lifters | mean stated | right |\n|---|---|---|---|")
        for name, count, stated, right in reliability(cell):
            print(f"| {name} | {count} | {stated:.3f} | {right:.3f} |")


def wrong_worlds() -> dict[str, dict]:
    """Truths that the model does not know."""
    return {
        "the back weakens by a step at 0.6 of the pull": {"world": stepped},
        "the bar stops much less sharply (10)": {"settings": {"weak.sharpness": 10.0}},
        "the bar stops much more sharply (90)": {"settings": {"weak.sharpness": 90.0}},
        "one day's effect of 3 % on all levels": {"day_sd": 0.03},
        "what was seen is drawn blindly in 30 %": {"wrong_seen": 0.3},
        "positions have nothing to do with the limiter": {"random_positions": True},
        "positions blind, and seen blind in 30 %": {"random_positions": True, "wrong_seen": 0.3},
    }


SUMO_WORLDS = 4  # the last so many of the wrong worlds are tried in sumo too


def misspecified(lifters: int, pool: Executor) -> None:
    waiting = {}
    for style in ("conventional", "sumo"):
        plan = evidence_plans(style)["+ squat"]
        names = list(wrong_worlds())[0 if style == "conventional" else -SUMO_WORLDS :]
        for name in names:
            world = wrong_worlds()[name]
            waiting[style, name] = pool.submit(run_cell, plan, lifters, 3, size=0.4, **world)
    last = ""
    for (style, name), cell in waiting.items():
        if style != last:
            print(f"\nTruths the model does not know: {style}, best, squat, 6 misses with what was seen\n\n" + HEAD)
        last = style
        row(name, cell.result(), prior_score(cell.result()))


def shares_by_order(
    lifters: int, chosen: bool, style: str = "conventional", seed: int = 4, size: float = 0.5, steps: int = len(TESTS)
) -> np.ndarray:
    """Share right after 0, 1, 2 ... tests, in the order of expected information or in a random one."""
    rng = np.random.default_rng(seed)
    pick = np.random.default_rng(seed + 1)
    kind = KIND[style]
    right = np.zeros(steps + 1)
    for table in tables():
        group = squad(table, Plan(style, (style,), misses=2, seen=True), max(lifters // 8, 1), rng)
        results = group.true_best + TEST_SD * rng.standard_normal(group.true_best.shape)
        notes = {KIND[t]: slowest_notes(group, t, rng) for t in TESTS}
        for i, evidence in enumerate(group.evidence):
            left = [KIND[t] for t in TESTS]
            for step in range(steps + 1):
                problem = stack([table], [evidence], DEFAULTS)
                posterior = sample(problem, kind, size=size)
                right[step] += limiter_chances(posterior, kind)[0].argmax() == group.limiter[i]
                if not left:
                    break
                if chosen:
                    even = even_bests(problem, posterior, 0)
                    test = worth_of_tests(problem, posterior, even, 0, kind, [(k, TEST_SD) for k in left])[0].kind
                else:
                    test = int(pick.choice(left))
                left.remove(test)
                noted = tuple(s for s in notes[test][i] if s.quality == MADE_HEAVY)
                evidence = replace(evidence, stuck=evidence.stuck + noted)
                level, sd = evidence.level.copy(), evidence.level_sd.copy()
                level[test], sd[test] = results[i, test], TEST_SD
                evidence = replace(evidence, level=level, level_sd=sd)
    return right / (8 * max(lifters // 8, 1))


def order_table(lifters: int, pool: Executor) -> None:
    """Two misses are known; then one test after another."""
    waiting = {
        (style, name): pool.submit(shares_by_order, lifters, chosen, style)
        for style in ("conventional", "sumo")
        for name, chosen in (("by expected information", True), ("random", False))
    }
    print("\nNext best test: share right after so many tests; best and 2 misses with what was seen known before\n")
    print("| style, order | " + " | ".join(str(n) for n in range(len(TESTS) + 1)) + " |\n|" + "---|" * (len(TESTS) + 2))
    for (style, name), shares in waiting.items():
        print(f"| {style}, {name} | " + " | ".join(f"{s:.3f}" for s in shares.result()) + " |", flush=True)


def main(lifters: int) -> None:
    began = time.perf_counter()
    with ProcessPoolExecutor(2) as pool:
        kept = recovery(lifters, pool)
        ranks_table(kept)
        reliability_tables(kept, lifters)
        misspecified(lifters, pool)
        order_table(lifters // 4, pool)
    print(f"\n{lifters} lifters a cell, {time.perf_counter() - began:.0f} s on two cores")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 2000)
