"""Whole logs of simulated lifters in ten worlds: how often a link is named, and how honest its chance is.

Run `python -m tests.benchmarks.calibrate_weak_worlds [lifters a world] [first seed]`. Each lifter read is a line of
var/calibration/weak-worlds.jsonl, so a run that was stopped goes on where it was; remove the file to begin anew. The
tables go to docs/calibration-weak-points.md.
"""

from __future__ import annotations

import hashlib
import json
import sys
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta
from functools import partial
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np

from analysis.core.estimates.misses import MissReading, read_misses
from analysis.core.records.demands import STRENGTHS
from analysis.core.records.lifts import LifterRecord
from analysis.core.records.messages import Words
from analysis.core.records.terms import MISS_POSITIONS
from analysis.core.records.weak_link import StyleReading
from analysis.core.settings import DEFAULTS
from analysis.core.strength.demand_table import KindAsked, demand_table
from analysis.core.weak_link.estimate import estimate
from analysis.core.weak_link.findings import circumstance_findings
from analysis.core.weak_link.kinds import main_style, prepare_log
from analysis.core.weak_link.naming import counted_misses, why_not_enough
from analysis.core.weak_link.posterior import told_chances
from analysis.core.weak_link.problem import Evidence, stack
from analysis.core.weak_link.readings import readings_by_style
from analysis.core.weak_link.report import named_before
from analysis.core.weak_link.sampler import sample
from tests.simulated_logs import AS_OF, WORLDS, World, simulated

ROOT = Path(__file__).resolve().parents[2]
STORE = ROOT / "var" / "calibration" / "weak-worlds.jsonl"
CORE = ROOT / "analysis" / "core"
FIRST_SEED = 40_000
Row = dict[str, Any]


def version() -> str:
    """A short hash of the core: rows of another program are not mixed in."""
    parts = (path.read_bytes() for path in sorted(CORE.rglob("*.py")))
    return hashlib.sha256(b"".join(parts)).hexdigest()[:12]


def read_lifter(world: str, seed: int) -> Row:
    """One lifter of a world as the tool reads him at the end of his log, and his truth."""
    one = simulated(WORLDS[world], seed)
    main, why_not, readings = quick_reading(one.record)
    chances = [main.chance(link) for link in STRENGTHS]
    misses = counted_misses(readings, one.style)
    return {
        "world": world,
        "seed": seed,
        "style": one.style,
        "limiter": STRENGTHS.index(one.limiter),
        "chances": chances,
        "named": not why_not,
        "clear": misses > 0 and all("telling lifts" in str(reason) for reason in why_not),
        "misses": misses,
        "left_out": sum(not r.counts and r.code != "grip" for r in readings),
        "stops": [MISS_POSITIONS.index(p) for p in one.stops],
    }


def quick_reading(record: LifterRecord) -> tuple[StyleReading, Sequence[Words], Sequence[MissReading]]:
    """What the report says of the main style and why it names no link, without the parts that a page adds.

    Half the usual draws: more of them steady one lifter's chance and change no share of many.
    """
    log = prepare_log(record, AS_OF, DEFAULTS)
    readings = read_misses(record, log.levels, AS_OF, DEFAULTS)
    style = main_style(record, log.sets, AS_OF)
    found = estimate(record, log, readings, style, AS_OF, DEFAULTS, size=0.5)
    styles = readings_by_style(found, log, readings, style, DEFAULTS)
    findings = circumstance_findings(record, log, readings, style, AS_OF, DEFAULTS)
    kept = partial(named_before, record, log, style, AS_OF, DEFAULTS)
    return styles[0], why_not_enough(log, readings, found, styles, findings, DEFAULTS, kept), readings


def rows_of(worlds: list[str], lifters: int, first: int) -> list[Row]:
    """All rows asked for; those of this program that are in the store are not worked out again."""
    STORE.parent.mkdir(parents=True, exist_ok=True)
    program = version()
    kept = [json.loads(line) for line in STORE.read_text().splitlines()] if STORE.exists() else []
    known = {(r["world"], r["seed"]): r for r in kept if r["program"] == program}
    rows = []
    with STORE.open("a") as store:
        for seed in range(first, first + lifters):  # seed by seed, so that a stopped run has all worlds alike
            for world in worlds:
                if (world, seed) not in known:
                    known[world, seed] = read_lifter(world, seed) | {"program": program}
                    store.write(json.dumps(known[world, seed]) + "\n")
                    store.flush()
                rows.append(known[world, seed])
    return rows


def share(values: np.ndarray) -> str:
    """A share with its standard error."""
    if not len(values):
        return "-"
    mean = float(np.mean(values))
    return f"{mean:.2f} ± {np.sqrt(max(mean * (1 - mean), 1e-9) / len(values)):.2f}"


def world_table(rows: list[Row]) -> None:
    print(
        "\n| world | lifters | misses used (left out) | named | right when named | stated | stated - right, points | "
        "clear | right when clear | stated when clear | all: right | all: stated | log score | shares alone |"
    )
    print("|---" * 14 + "|")
    for world in dict.fromkeys(r["world"] for r in rows):
        here = [r for r in rows if r["world"] == world]
        chances, limiter = np.array([r["chances"] for r in here]), np.array([r["limiter"] for r in here])
        right, top = chances.argmax(1) == limiter, chances.max(1)
        named, clear = (np.array([r[key] for r in here]) for key in ("named", "clear"))
        left_out = np.mean([r["left_out"] for r in here])
        gap = 100 * (top[named].mean() - right[named].mean()) if named.any() else float("nan")
        error = 100 * np.sqrt(right[named].mean() * (1 - right[named].mean()) / max(named.sum(), 1))
        log = np.log(np.maximum(chances[np.arange(len(limiter)), limiter], 1e-4)).mean()
        shares = np.bincount(limiter, minlength=4) / len(limiter)
        alone = float((shares * np.log(np.maximum(shares, 1e-4))).sum())
        misses = np.mean([r["misses"] for r in here])
        print(
            f"| {world} | {len(here)} | {misses:.1f} ({left_out:.1f}) | {share(named)} | {share(right[named])} | "
            f"{top[named].mean():.2f} | "
            f"{gap:+.1f} ± {error:.1f} | {share(clear)} | {share(right[clear])} | {top[clear].mean():.2f} | "
            f"{right.mean():.2f} | {top.mean():.2f} | {log:.2f} | {alone:.2f} |"
        )


def band_table(rows: list[Row]) -> None:
    chances, limiter = np.array([r["chances"] for r in rows]), np.array([r["limiter"] for r in rows])
    right, top = chances.argmax(1) == limiter, chances.max(1)
    print("\n| stated | lifters | mean stated | right |\n|---|---|---|---|")
    for low, high in ((0, 0.5), (0.5, 0.6), (0.6, 0.7), (0.7, 0.8), (0.8, 0.9), (0.9, 0.97), (0.97, 1.01)):
        here = (top >= low) & (top < high)
        if here.any():
            print(f"| {low:.2f}-{min(high, 1):.2f} | {here.sum()} | {top[here].mean():.3f} | {share(right[here])} |")


def stop_table(rows: list[Row]) -> None:
    print("\n| where misses stopped, % | " + " | ".join(MISS_POSITIONS) + " | noted |\n" + "|---" * 8 + "|")
    for world in dict.fromkeys(r["world"] for r in rows):
        for style in ("conventional", "sumo"):
            stops = [s for r in rows if r["world"] == world and r["style"] == style for s in r["stops"]]
            shares = 100 * np.bincount(stops, minlength=6) / max(len(stops), 1)
            print(f"| {world}, {style} | " + " | ".join(f"{s:.0f}" for s in shares) + f" | {len(stops)} |")


def prior_table() -> None:
    """Chances before any log, over the measured men's statures and masses."""
    print("\n| before any log | hips | legs | back | grip |\n|---|---|---|---|---|")
    for style in ("conventional", "sumo", "wide-sumo"):
        told = []
        for seed in range(0, 25, 2):
            table = demand_table(simulated(World(), seed).record.body, [KindAsked("main", style=style, grip="mixed")])
            none = np.full(1, np.nan)
            problem = stack([table], [Evidence(none, none, (), np.zeros(1), np.zeros(1))], DEFAULTS)
            told.append(told_chances(sample(problem, size=0.5).before[0]))
        print(f"| {style} | " + " | ".join(f"{x:.2f}" for x in np.mean(told, axis=0)) + " |")


def moved_squats(lifters: int, first: int) -> None:
    """Squat days four days before the pull moved to two, all else the same."""
    changes, leads, names = [], 0, Counter[str]()
    for seed in range(first, first + lifters):
        one = simulated(WORLDS["as assumed before"], seed, squats_before=4).record
        moved = tuple(s if s.tags.lift == "deadlift" else replace(s, day=s.day + timedelta(days=2)) for s in one.sets)
        found = [quick_reading(r) for r in (one, replace(one, sets=moved))]
        before, after = (np.array([main.chance(link) for link in STRENGTHS]) for main, _, _ in found)
        changes.append(abs(after[before.argmax()] - before.max()))
        leads += before.argmax() != after.argmax()
        names[" to ".join("open" if why_not else "named" for _, why_not, _ in found)] += 1
    print(f"\nSquats moved by two days, {lifters} lifters: leading chance moved by {np.quantile(changes, 0.9):.3f} or "
          f"less in 9 of 10 ({np.mean(np.array(changes) < 0.10):.2f} under 0.10), leading link changed in {leads}, "
          f"{dict(names)}")  # fmt: skip


def added_sets(lifters: int, first: int, steps: int = 5) -> None:
    """The last sets of the log taken away and given back one after another."""
    taken, changed, lost = 0, 0, 0
    for seed in range(first, first + lifters):
        one = simulated(WORLDS["as assumed before"], seed).record
        ordered = sorted(one.sets, key=lambda s: (s.day, s.key))
        found = [
            quick_reading(replace(one, sets=tuple(ordered[: len(ordered) - left]))) for left in range(steps, -1, -1)
        ]
        names = ["" if why_not else max(main.chances, key=lambda c: c.chance).link for main, why_not, _ in found]
        for old, new in pairwise(names):
            taken += bool(old or new)
            changed += bool(old and new and old != new)
            lost += bool(old) != bool(new)
    print(
        f"\nOne set added, {lifters} lifters, {taken} steps with a name: "
        f"another link {changed}, name come or gone {lost}"
    )


def main(lifters: int, first: int) -> None:
    rows = rows_of(list(WORLDS), lifters, first)
    print(f"{lifters} lifters a world, seeds {first} to {first + lifters - 1}, 25 measured men in turn")
    world_table(rows)
    band_table(rows)
    stop_table(rows)
    prior_table()
    moved_squats(max(lifters // 3, 4), first + 10_000)
    added_sets(max(lifters // 5, 3), first + 20_000)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 400, int(sys.argv[2]) if len(sys.argv) > 2 else FIRST_SEED)
