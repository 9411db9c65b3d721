"""How long one athlete's weak link takes, and a squad of 500 on two cores.

Run `python -m tests.benchmarks.bench_weak_points [squad]`; the table goes to docs/bench-weak-points.md.
"""

from __future__ import annotations

import sys
import time
from concurrent.futures import ProcessPoolExecutor
from datetime import date, timedelta

import numpy as np

from analysis.core.estimates import recompute as settled
from analysis.core.estimates import running_best
from analysis.core.records.lifts import LifterRecord, PullTags, SetRecord
from analysis.core.weak_link import weak_link_report

AS_OF = date(2026, 11, 25)
POSITIONS = ("floor", "mid-shin", "below-knee")
SIGNS = ("slowed-stopped", "back-rounded", "hips-shot-up", "")


def heavy_lifter(number: int, sets: int = 200, misses: int = 20) -> LifterRecord:
    """An invented athlete: `sets` heavy sets over two years and `misses` misses in the last 12 weeks."""
    rng = np.random.default_rng(number)
    level = rng.uniform(120.0, 240.0)
    style = ("conventional", "sumo")[number % 2]
    rows = [_made(rng, i, level, style) for i in range(sets - misses)]
    rows += [_missed(rng, i, level, style) for i in range(misses)]
    body = {"stature": rng.uniform(1.60, 1.92), "mass": rng.uniform(62.0, 120.0)}
    return LifterRecord(
        f"lifter {number}", "mf"[number % 2], 30.0, "trained", body, trained_styles=(style,), sets=tuple(rows)
    )


def _made(rng: np.random.Generator, i: int, level: float, style: str) -> SetRecord:
    day = AS_OF - timedelta(days=int(4 * i) + 3)
    if i % 4 == 3:
        tags = PullTags("front-squat" if i % 8 == 3 else "squat", depth_verified=True, bar="squat-bar")
        return SetRecord(f"m{i}", day, level * rng.uniform(0.55, 0.65), 3, 3, tags, rir_low=2, rir_high=2)
    block = 0.2 if i % 9 == 0 else 0.0
    tags = PullTags(style=style, bar="stiff", grip="mixed", start="block" if block else "floor", start_offset_m=block)
    return SetRecord(
        f"m{i}", day, level * rng.uniform(0.84, 0.88), 3, 3, tags, rir_low=2, rir_high=2, slowest_at="mid-shin"
    )


def _missed(rng: np.random.Generator, i: int, level: float, style: str) -> SetRecord:
    day = AS_OF - timedelta(days=int(4 * i) + 5)
    tags = PullTags(style=style, bar="stiff", grip="mixed")
    where, seen = POSITIONS[rng.integers(3)], SIGNS[rng.integers(4)]
    return SetRecord(f"x{i}", day, level * 1.01, 0, 1, tags, "missed", miss_position=where, gave_way=seen)


def _timed(lifter: LifterRecord) -> tuple[float, float]:
    """Seconds by the clock and of the processor."""
    clock, processor = time.perf_counter(), time.process_time()
    weak_link_report(lifter, AS_OF)
    return time.perf_counter() - clock, time.process_time() - processor


def main(squad: int) -> None:
    lifters = [heavy_lifter(n) for n in range(squad)]
    weak_link_report(heavy_lifter(squad), AS_OF)  # tables and imports warm
    print("| what | clock, least and median | processor, median | processor, slowest |\n|---|---|---|---|")
    for name in ("one athlete, 200 heavy sets, 20 misses, body new", "the same, body known"):
        settled.KEPT.clear()
        running_best.KEPT.clear()  # the log is read anew both times
        clock, processor = np.array([_timed(one) for one in lifters[:20]]).T * 1000.0
        told = (
            f"{clock.min():.0f}, {np.median(clock):.0f} ms | {np.median(processor):.0f} ms | {processor.max():.0f} ms"
        )
        print(f"| {name} | {told} | {processor.max():.0f} ms |")
    began = time.perf_counter()
    with ProcessPoolExecutor(2) as pool:
        used = sum(processor for _, processor in pool.map(_timed, lifters, chunksize=10))
    print(f"| squad of {squad}, two processes | {time.perf_counter() - began:.1f} s | {used:.1f} s in all | |")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 500)
