"""The gate of predicted style ratios: computed over trained lifters, stored with the constants it held for, printed.

Run `python -m tests.benchmarks.gate [lifters]`; the table goes to docs/gate.md, the numbers to
analysis/mechanics/data/gate.json, which the pages ask.
"""

from __future__ import annotations

import json
import sys

import numpy as np

from analysis.core.strength.gate import LIMITS, STORED, constants_fingerprint, gate_holds, passes
from tests.strength_population import SETUPS, gate_numbers, population


def print_gate(numbers: dict[str, float], statics: dict[str, float]) -> None:
    print("| quantity | wanted | with each lifter's style factor | statics alone |\n|---|---|---|---|")
    rows = (
        ("median sumo / conventional", f"{LIMITS['median_low']}-{LIMITS['median_high']}", "median"),
        ("10 in 100 lie below", f"{LIMITS['tenth_at_most']} or less", "tenth"),
        ("10 in 100 lie above", f"{LIMITS['ninetieth_at_least']} or more", "ninetieth"),
        ("rank correlation with legs over back", f"{LIMITS['rank_correlation_at_least']} or more", "rank_correlation"),
        ("lifters", "2,000 of both sexes", "lifters"),
    )
    for name, wanted, key in rows:
        print(f"| {name} | {wanted} | {numbers[key]:.3g} | {statics[key]:.3g} |")
    print(f"\nThe gate {'holds' if passes(numbers) else 'does not hold'}.")


def print_trade(lifters: int) -> None:
    """Who limits which lift, where, and the ratios between lifts."""
    for sex, name in (("m", "men"), ("f", "women")):
        group = population(sex, lifters)
        print(
            f"\n{name}\n\n| lift | hips | legs | back | share of the pull 10-50-90 % | over conventional 10-50-90 % |"
        )
        print("|---|---|---|---|---|---|")
        for key in (*SETUPS, "squat", "front-squat"):
            kept = group.limiter[key] >= 0
            shares = " | ".join(f"{(group.limiter[key][kept] == i).mean():.2f}" for i in range(3))
            where = " ".join(f"{q:.2f}" for q in np.quantile(group.where[key][kept], (0.1, 0.5, 0.9)))
            ratio = (group.best[key] / group.best["conventional"])[kept]
            spread = " ".join(f"{q:.2f}" for q in np.quantile(ratio, (0.1, 0.5, 0.9)))
            print(f"| {key} | {shares} | {where} | {spread} |")


def main(lifters: int) -> None:
    numbers, statics = gate_numbers(lifters), gate_numbers(lifters, style_sd=0.0)
    STORED.write_text(json.dumps({"fingerprint": constants_fingerprint(), "numbers": numbers}, indent=1) + "\n")
    gate_holds.cache_clear()
    print_gate(numbers, statics)
    print_trade(lifters // 4)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 2000)
