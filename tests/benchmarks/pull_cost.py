"""Cost of postures and moments beside an earlier revision, in one run: `python -m tests.benchmarks.pull_checks --base`.

Each revision runs in its own processes, in turn with the other, on one core.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

RUNS = 4
# runs in either revision: before the core had its own package the mechanics stood in analysis.mechanics
SCRIPT = """
import json, time, tracemalloc
try:
    from analysis.core.body.anthropometry import population_bodies
    from analysis.core.pull.pull import pull_postures
    from analysis.core.pull.setups import DEFAULT_SETUPS, filled_setup, setup_arrays
    from analysis.core.pull.batch import squad_pulls
except ImportError:
    from importlib import import_module
    old = "analysis." + "mechanics."
    population_bodies = import_module(old + "anthropometry").population_bodies
    pull_postures = import_module(old + "pull").pull_postures
    setups = import_module(old + "setups")
    DEFAULT_SETUPS, filled_setup, setup_arrays = setups.DEFAULT_SETUPS, setups.filled_setup, setups.setup_arrays
    squad_pulls = import_module(old + "squad").squad_pulls
styles, found = setup_arrays([filled_setup(a) for a in DEFAULT_SETUPS]), {}

def best(run, repeats):
    times = []
    for _ in range(repeats):
        begun = time.perf_counter()
        run()
        times.append(time.perf_counter() - begun)
    return min(times)

for count, repeats in ((1, 80), (20, 40), (500, 5)):
    bodies = population_bodies("m", count, 1)
    found[f"{count} bodies"] = best(lambda: pull_postures(bodies, styles, 61), repeats)
bodies = population_bodies("m", 1000, 1)
found["1000 athletes with moments"] = best(lambda: squad_pulls(bodies, styles, 61), 4)
tracemalloc.start()
squad_pulls(bodies, styles, 61)
found["peak MB of that"] = tracemalloc.get_traced_memory()[1] / 1e6
print(json.dumps(found))
"""


def _run(folder: Path) -> dict[str, float]:
    env = {**os.environ, "PYTHONPATH": str(folder), "OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1"}
    command = [sys.executable, "-c", SCRIPT]
    done = subprocess.run(command, cwd=folder, env=env, capture_output=True, text=True, check=True)
    found: dict[str, float] = json.loads(done.stdout)
    return found


def cost_rows(base: Path) -> list[list[str]]:
    """What, before, now and their ratio, as text: the best of RUNS alternating runs of each revision."""
    here = Path(__file__).resolve().parents[2]
    runs = [(_run(base), _run(here)) for _ in range(RUNS)]
    rows = []
    for key in runs[0][0]:
        old, new = (min(run[which][key] for run in runs) for which in (0, 1))
        unit, times = ("", 1) if "MB" in key else (" ms", 1000)
        rows.append([key, f"{times * old:.3g}{unit}", f"{times * new:.3g}{unit}", f"{new / old:.2f}"])
    return rows
