"""Starting an import in a process of its own, killing it with signal 9, and looking at what the database holds."""

import os
import shutil
import signal
import sqlite3
import subprocess
import sys
import time
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[3]
FIND = {
    "brought_in": "SELECT count(*) FROM athletes_liftset WHERE batch_id IS NOT NULL",
    "lifted": "SELECT coalesce(sum(load_kg * reps_made), 0) FROM athletes_liftset WHERE batch_id IS NOT NULL",
    "by_hand": "SELECT count(*) FROM athletes_liftset WHERE batch_id IS NULL",
    "waiting": "SELECT count(*) FROM athletes_stagedset",
    "lines": "SELECT count(*) FROM athletes_importrow",
    "status": "SELECT status FROM athletes_importbatch",
    "triggers": "SELECT count(*) FROM sqlite_master WHERE type = 'trigger' AND name LIKE 'revision_athletes_liftset%'",
    "whole": "PRAGMA integrity_check",
    "hanging": "SELECT count(*) FROM pragma_foreign_key_check",
}


@dataclass(frozen=True)
class Found:
    """What a database holds after a kill or at the end."""

    brought_in: int
    lifted: float
    by_hand: int
    waiting: int
    lines: int
    status: str
    triggers: int
    whole: str
    hanging: int

    @property
    def sound(self) -> bool:
        """Nothing broken, nothing switched off, and what was there before the import is there."""
        return (self.by_hand, self.triggers, self.whole, self.hanging) == (1, 3, "ok", 0)


class Killed:
    """One database in a folder, and the import that is run and killed on it."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.database = folder, folder / "log.sqlite3"

    def copy(self, folder: Path) -> "Killed":
        """The same import at the same place, to be killed in another way."""
        shutil.rmtree(folder, ignore_errors=True)
        shutil.copytree(self.folder, folder)
        return Killed(folder)

    def start(self, *command: str, stop_at: str = "") -> subprocess.Popen:
        env = os.environ | {
            "DJANGO_DEBUG": "1", "STANCEBOOK_VAR": str(self.folder), "DATABASE_URL": f"sqlite:///{self.database}",
            "DJANGO_SETTINGS_MODULE": "config.settings", "PYTHONPATH": str(ROOT), "STOP_AT": stop_at,
        }  # fmt: skip
        script = str(ROOT / "tests/athletes/importing/killed_import.py")
        return subprocess.Popen([sys.executable, script, *command], env=env, stdout=subprocess.PIPE, text=True)

    def run(self, *command: str) -> Found:
        process = self.start(*command)
        process.communicate()
        assert process.returncode == 0
        return self.found()

    def kill(self, *command: str, at: str, count: int = 0, after: float = 0.0, stop: bool = False) -> Found:
        """Run until it says that it is there, wait so many seconds more, kill; what is in the database then."""
        process = self.start(*command, stop_at=at if stop else "")
        for line in process.stdout:
            moment, _, said = line.removeprefix("now: ").strip().rpartition(" ")
            if moment == at and int(said) >= count:
                break
        else:
            raise AssertionError(f"{command} never said “{at}”")
        time.sleep(after)
        os.kill(process.pid, signal.SIGKILL)
        process.communicate()
        return self.found()

    def found(self) -> Found:
        with closing(sqlite3.connect(self.database)) as link:
            return Found(**{name: link.execute(query).fetchone()[0] for name, query in FIND.items()})
