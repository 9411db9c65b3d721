"""A worker killed with signal 9: the next one goes on by itself, no athlete is half in, no set is in twice.

Fifty kills of 20,000 lines are made by `python -m tests.benchmarks.bench_killed_import`, see docs/bench-import.md.
"""

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[3]
LINES, KILLS = 6_000, 6


@pytest.mark.slow
def test_an_import_whose_worker_is_killed_again_and_again_completes():
    env = os.environ | {
        "DJANGO_DEBUG": "1", "DJANGO_SETTINGS_MODULE": "config.settings", "STANCEBOOK_TASKS": "database",
    }  # fmt: skip
    command = [sys.executable, "-m", "tests.benchmarks.bench_killed_import", str(LINES), str(KILLS)]
    done = subprocess.run(command, cwd=ROOT, env=env, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr[-2000:]
    assert f"{KILLS} kills" in done.stdout
