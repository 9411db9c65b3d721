"""How long the leverage page of one athlete takes: the core's part, and the whole page's context."""

from __future__ import annotations

import os
import statistics
import time
from collections.abc import Callable

os.environ.setdefault("OMP_NUM_THREADS", "1")

from analysis.core.leverages.findings import story
from analysis.core.leverages.report import leverage_report
from analysis.core.leverages.sweeps import stance_sweep
from analysis.core.records.bodies import BodyInput
from analysis.drawings.panels import frames, key_index, panel, sheet_for

WOMAN = BodyInput(
    "f", {"stature": 1.66, "sitting_height": 0.875, "arm_span": 1.68, "standing_grip_height": 0.72, "mass": 64.0}
)


def centimetres(metres: float) -> str:
    return f"{metres * 100:.1f} cm"


def milliseconds(work: Callable[[], object], repeats: int = 15) -> float:
    """Median time of one call, ms, after one warm-up."""
    work()
    times = []
    for _ in range(repeats):
        begin = time.perf_counter()
        work()
        times.append((time.perf_counter() - begin) * 1000.0)
    return statistics.median(times)


def main() -> None:
    report = leverage_report(WOMAN)
    sheet = sheet_for(report.styles, "pull", centimetres)
    first = report.styles[0]
    rows = [
        ("core: 4 styles, 200 draws", lambda: leverage_report(WOMAN)),
        ("words: three styles against the first", lambda: [story(first, s, centimetres) for s in report.styles[1:]]),
        ("12 pictures", lambda: [panel(s, key_index(s, at), sheet, s.name, at).svg("k")
                                 for s in report.styles for at in ("lift-off", "knee", "lockout")]),
        ("frames of the scrubber, 4 styles", lambda: [frames(s, sheet) for s in report.styles]),
        ("stance sweep, 25 stances, 200 draws", lambda: stance_sweep(WOMAN)),
    ]  # fmt: skip
    print("| part of the leverage page | ms (median of 15, one core) |\n|---|---|")
    for name, work in rows:
        print(f"| {name} | {milliseconds(work):.1f} |")


if __name__ == "__main__":
    main()
