"""A club's server of version 0.2 is migrated with its data: nothing is lost, every page opens."""

import json
import os
import subprocess
import sys
import tarfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
STORED = ROOT / "fixtures" / "upgrade"
# Columns and tables that a later version changed on purpose, each with its reason.
CHANGED: dict[str, str] = {
    "athletes_importbatch.options": "an unfinished import is read again from its file (0012)",
    "athletes_importbatch.status": "an unfinished import is read again from its file (0012)",
    "athletes_importbatch.rows_read": "an unfinished import is read again from its file (0012)",
    "athletes_stagedset is gone": "lines are taken in without a table between (0012)",
    "athletes_stagedmeasure is gone": "lines are taken in without a table between (0012)",
}


@pytest.fixture(scope="module")
def seen(tmp_path_factory):
    """What the visit of the migrated database saw."""
    folder = tmp_path_factory.mktemp("old")
    with tarfile.open(STORED / "stancebook-0.2.tar.xz") as stored:
        stored.extractall(folder, filter="data")
    environment = {
        **{k: v for k, v in os.environ.items() if not k.startswith(("STANCEBOOK_", "DATABASE_"))},
        "DJANGO_SETTINGS_MODULE": "config.settings",
        "DJANGO_DEBUG": "1",
        "STANCEBOOK_VAR": str(folder),
        "PYTHONPATH": str(ROOT),
    }
    done = subprocess.run(
        [sys.executable, "-m", "tests.upgrade.visit", str(STORED / "manifest-0.2.json")],
        cwd=ROOT, env=environment, capture_output=True, text=True, timeout=300,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr[-2000:]
    return json.loads(done.stdout)


def test_no_row_and_no_value_is_lost(seen):
    assert [one for one in seen["lost"] if one not in CHANGED] == []


def test_the_manifest_knows_the_data():
    rows = {table: one["rows"] for table, one in json.loads((STORED / "manifest-0.2.json").read_text()).items()}
    assert rows["athletes_liftset"] > 7000 and rows["athletes_picture"] == 3 and rows["athletes_importrow"] > 1000


def test_every_page_of_both_clubs_opens(seen):
    assert seen["pages"] == []


def test_imports_of_every_stage_open(seen):
    assert seen["imports"] == {"old-log.csv": 200, "winter-log.csv": 200, "asked.csv": 200}
