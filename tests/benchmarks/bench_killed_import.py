"""Worker killed with signal 9 at random moments of an import and of its undo: no athlete half in, no set twice.

`python -m tests.benchmarks.bench_killed_import [lines [kills]]` takes a log in and out again with a real worker on a
SQLite database of its own. After each kill it holds the log against the file and starts the next worker, which has to
go on by itself; when an import is done it is undone, then the next one begins, until so many kills are made. The last
import is left to complete. PostgreSQL undoes what a killed client had not committed; nothing here is about that.
"""

import os
import random
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
LIFTERS, LONG = 12, 0.4  # one lifter has two lines in five, so that their log comes in by year
FIRST, LAST = 0.9, 3.0  # seconds after its start at which a worker is killed; starting takes about 0.8
LIMIT = 120.0  # seconds in which the last import must complete by itself


def log_text(lines: int, dice: random.Random) -> bytes:
    rows = ["date,lifter,lift,weight,unit,sets,reps"]
    for i in range(lines):
        who = 0 if dice.random() < LONG else dice.randrange(1, LIFTERS)
        rows.append(f"20{16 + i * 10 // lines}-{1 + i % 12:02}-{1 + i % 28:02},Lifter {chr(65 + who)},sumo,"
                    f"{100 + i % 100},kg,1,{1 + i % 5}")  # fmt: skip
    return "\n".join(rows).encode()


class Killing:
    """An import on the database of this process, and the worker that is killed."""

    def __init__(self, lines: int) -> None:
        from athletes.models import Athlete, Club, User

        self.lines, self.dice = lines, random.Random(20261127)
        self.club = Club.objects.create(name="Quarry Hall")
        self.owner = User.objects.create(username="cato", email="cato@example.test")
        names = [f"Lifter {chr(65 + i)}" for i in range(LIFTERS)]
        self.people = [Athlete.objects.create(club=self.club, name=name, sex="f") for name in names]
        self.content = log_text(lines, self.dice)
        self.whole = Counter(line.split(",")[1] for line in self.content.decode().splitlines()[1:])
        self.seen: Counter[str] = Counter()
        self.undos = self.imports = 0

    def begin(self) -> None:
        from django.core.files.uploadedfile import SimpleUploadedFile

        from athletes.importing.files.upload import begin
        from athletes.importing.tasks import enqueue

        self.imports += 1
        self.pk = begin(self.club, self.owner, SimpleUploadedFile("log.csv", self.content), 10**9).pk
        enqueue(self.batch())

    def batch(self):
        from athletes.models import ImportBatch

        return ImportBatch.objects.get(pk=self.pk)

    def press(self) -> None:
        """What a person does next: takes a ready import in, undoes one that is done, uploads the next file."""
        from athletes.importing.moving.taking import take_in
        from athletes.importing.moving.undoing import undo
        from athletes.importing.tasks import enqueue

        batch = self.batch()
        if batch.status == "ready":
            assert take_in(batch) == ""
            enqueue(batch)
        elif batch.status == "done" and not batch.options["phase"]:
            assert undo(batch, self.owner) == ""
            enqueue(batch)
            self.undos += 1
        elif batch.status == "undone" and not batch.options["phase"]:
            self.begin()

    def worker(self) -> subprocess.Popen:
        return subprocess.Popen([sys.executable, "manage.py", "work", "--interval", "0.1"], cwd=ROOT,
                                stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)  # fmt: skip

    def check(self) -> str:
        """What the log holds, held against the file; returns the moment at which the worker was killed."""
        from django.db import connection
        from django.db.models import Count

        from athletes.models import LiftSet

        batch = self.batch()
        parts = {tuple(part) for part in batch.options.get("parts", [])}
        split = {athlete for athlete, days in parts if days}
        there = dict(LiftSet.objects.filter(batch=batch).order_by().values_list("athlete__name").annotate(Count("pk")))
        for person in self.people:
            found, wanted = there.get(person.name, 0), self.whole[person.name]
            if person.pk in split and batch.status == "moving":
                done = [days for pk, days in batch.options["parts"][: batch.options["taken"]] if pk == person.pk]
                assert found == sum(self.of_days(person.name, days) for days in done), (person, found, done)
            else:
                assert found in (0, wanted), (person.name, found, wanted, batch.status)
        twice = LiftSet.objects.filter(batch=batch).values("order").annotate(n=Count("pk")).filter(n__gt=1)
        assert not twice.exists()
        assert not LiftSet.objects.exclude(batch=batch).exists()
        with connection.cursor() as cursor:
            assert cursor.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
            assert cursor.execute("PRAGMA foreign_key_check").fetchall() == []
        return f"{batch.status} {batch.options.get('phase') or 'at rest'}"

    def of_days(self, name: str, days: str) -> int:
        return sum(line.startswith(days) and f",{name}," in line for line in self.content.decode().splitlines()[1:])

    def kill(self) -> None:
        process = self.worker()
        time.sleep(0.5)
        until = time.monotonic() + self.dice.uniform(FIRST, LAST) - 0.5
        while time.monotonic() < until:
            self.press()
            time.sleep(0.05)
        os.kill(process.pid, signal.SIGKILL)
        process.wait()
        self.seen[self.check()] += 1

    def complete(self) -> float:
        """Seconds in which a worker that is left alone brings the import of the last kill to its end."""
        began, process = time.monotonic(), self.worker()
        try:
            while not (self.batch().status == "done" and not self.batch().options["phase"]):
                assert time.monotonic() - began < LIMIT, self.batch().options
                self.press()
                time.sleep(0.1)
        finally:
            process.terminate()
            process.wait()
        assert self.batch().sets.count() == self.lines
        self.check()
        return time.monotonic() - began


def main(lines: int, kills: int) -> None:
    with tempfile.TemporaryDirectory() as folder:
        os.environ |= {"DATABASE_URL": f"sqlite:///{folder}/log.sqlite3", "STANCEBOOK_VAR": folder}
        import django
        from django.core.management import call_command

        django.setup()
        call_command("migrate", verbosity=0)
        killing = Killing(lines)
        killing.begin()
        began = time.monotonic()
        for _ in range(kills):
            killing.kill()
        took = killing.complete()
        print("| where the import stood at the kill | kills |\n|---|---|")
        for moment, count in sorted(killing.seen.items()):
            print(f"| {moment} | {count} |")
        print(f"\n{kills} kills in {killing.imports} imports of {lines:,} lines and {killing.undos} undos: "
              f"no athlete half in, no set twice; the last import completed by itself in {took:.0f} s; "
              f"{time.monotonic() - began:.0f} s in all")  # fmt: skip


if __name__ == "__main__":
    os.environ |= {"DJANGO_DEBUG": "1", "DJANGO_SETTINGS_MODULE": "config.settings", "STANCEBOOK_TASKS": "database"}
    given = [int(one) for one in sys.argv[1:3]]
    main(*given, *(20_000, 50)[len(given) :])
