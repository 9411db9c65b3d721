"""How long 100,000 sets take to come in, beside Django's own bulk_create of the same rows in the same run.

`python -m tests.benchmarks.bench_import [lines [runs]]` makes a database of its own (SQLite in a temporary folder, or
one on the server that DATABASE_URL names), takes the file in and out again with nobody there and with twenty staff
logging at a real server, and prints the tables. Other work on the machine only lengthens a time, so the least of the
runs counts.
"""

import json
import os
import random
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field
from datetime import date, timedelta
from pathlib import Path

import dj_database_url

from tests.own_server import OwnServer, own_database

ROOT = Path(__file__).resolve().parents[2]
LIFTERS = 40
IMPORT = ("read, check and stage every line", "compare and plan", "take in", "tidy up")
IDLE = 20.0  # seconds of staff at work without an import, for their usual time
ONE_LOG = 5_000  # sets of one lifter that come in by one commit


@dataclass
class Run:
    """One run: seconds by part, when the move and the undo were, and what others saw meanwhile."""

    parts: dict[str, float] = field(default_factory=dict)
    windows: dict[str, tuple[float, float]] = field(default_factory=dict)
    spans: list[list[float]] = field(default_factory=list)
    waits: list[list[float]] = field(default_factory=list)
    bad: list[str] = field(default_factory=list)
    memory: float = 0.0

    @property
    def whole(self) -> float:
        return sum(self.parts[name] for name in IMPORT)

    def p99(self, window: str) -> float:
        """What 99 in 100 requests that began in a window stayed below; "import" is all its parts."""
        named = IMPORT if window == "import" else (window,)
        spans = [self.windows[name] for name in named]
        took = sorted(t for began, t in self.waits if any(a <= began < b for a, b in spans))
        return took[int(len(took) * 0.99)] if took else 0.0

    def longest(self, seen: list[list[float]], window: str) -> float:
        """The longest of what others saw that overlaps the move or the undo."""
        begins, ends = self.windows[window]
        return max((took for began, took in seen if began < ends and began + took > begins), default=0.0)


def log_text(lines: int, names: list[str]) -> bytes:
    dice = random.Random(20261125)
    rows = ["date,lifter,lift,weight,unit,sets,reps,rpe,result,note"]
    for i in range(lines):
        day = date(2015, 1, 1) + timedelta(days=i // 40)
        rows.append(
            f"{day:%d/%m/%Y},{dice.choice(names)},{dice.choice(['SDL', 'sumo', 'conv', 'DL'])},"
            f"{dice.randrange(60, 260) + 0.5 * dice.randrange(2):g},"
            f"kg,1,{dice.randint(1, 5)},{dice.choice(['7', '8', '8.5', '9'])},{dice.choice(['ok', 'ok', 'ok', 'F'])},"
        )
    return "\n".join(rows).encode()


@contextmanager
def timed(run: Run, said: str) -> Iterator[None]:
    began = time.monotonic()
    yield
    run.parts[said] = time.monotonic() - began
    run.windows[said] = (began, time.monotonic())


@contextmanager
def beside(*args: str) -> Iterator[dict[str, object]]:
    """Another process at work meanwhile; what it found is there afterwards."""
    command = [sys.executable, "-m", "tests.benchmarks.staff_at_work", *args]
    pipes = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE}
    process = subprocess.Popen(command, cwd=ROOT, text=True, **pipes)
    found: dict[str, object] = {}
    time.sleep(2)
    try:
        yield found
    finally:
        said, _ = process.communicate("")
        found |= json.loads(said or "{}")


class Bench:
    """The import as a person does it, step by step, on the database of this process."""

    def __init__(self, lines: int) -> None:
        from athletes.models import Athlete, Club, User

        self.lines, self.owner = lines, User.objects.first()
        self.club = Club.objects.get(name="Quarry Hall")
        names = [f"Lifter {chr(65 + i // 26)}{chr(97 + i % 26)}" for i in range(LIFTERS)]
        self.people = [Athlete.objects.create(club=self.club, name=name, sex="m") for name in names]
        self.content = log_text(lines, names)

    def take_in(self, run: Run) -> object:
        """One import, up to its last set in the log and its layout cleared away."""
        from django.core.files.uploadedfile import SimpleUploadedFile

        from athletes.importing.files.upload import begin
        from athletes.importing.moving.taking import take_in

        with timed(run, IMPORT[0]):
            batch = begin(self.club, self.owner, SimpleUploadedFile("log.csv", self.content), 10**9)
            batch = self.until(batch, lambda b: b.status != "staging")
        assert take_in(batch) == "", batch.reason
        batch.refresh_from_db()
        with timed(run, IMPORT[1]):
            batch = self.until(batch, lambda b: b.options.get("phase") != "check")
        with timed(run, IMPORT[2]):
            batch = self.until(batch, lambda b: b.status != "moving")
        batch.refresh_from_db()
        assert batch.status == "done", batch.reason
        with timed(run, IMPORT[3]):
            batch = self.until(batch, lambda b: not b.options.get("phase"))
        run.memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        return batch

    def until(self, batch: object, reached: Callable[[object], bool]) -> object:
        """Steps as the worker runs them; the comparison before taking in is timed alone."""
        from athletes.importing.tasks import advance

        while not reached(batch):
            batch = advance(batch.pk, 0 if batch.options.get("phase") in ("check", "tidy") else 1.5)
        return batch

    def undo(self, batch: object, run: Run) -> None:
        from athletes.importing.moving.undoing import undo

        assert undo(batch, self.owner) == ""
        batch.refresh_from_db()
        with timed(run, "undo"):
            batch = self.until(batch, lambda b: b.status == "undone")
        assert batch.options["undo"]["sets"] == self.lines
        self.until(batch, lambda b: not b.options.get("phase"))

    def rows_of(self, batch: object) -> list[dict[str, object]]:
        from athletes.models import LiftSet

        untold = ("id", "uid", "batch_id")
        columns = [f.attname for f in LiftSet._meta.concrete_fields if f.attname not in untold]
        rows = list(LiftSet.objects.filter(batch=batch).values(*columns))
        assert len(rows) == self.lines
        return rows

    def bulk_create(self, rows: list[dict[str, object]]) -> float:
        """Django's own way with the same rows: objects from plain values, then bulk_create in one transaction."""
        from django.db import transaction

        from athletes.models import LiftSet

        began = time.monotonic()
        with transaction.atomic():
            LiftSet.objects.bulk_create((LiftSet(**row) for row in rows), batch_size=500)
        took = time.monotonic() - began
        LiftSet.objects.filter(batch=None, day__lt="2026-01-01")._raw_delete(using="default")
        return took


def alone(bench: Bench, database: str) -> tuple[Run, float]:
    run = Run()
    with ExitStack() as others:
        found = others.enter_context(beside("probe", database)) if database else {}
        batch = bench.take_in(run)
        rows = bench.rows_of(batch)
        bench.undo(batch, run)
    run.spans = found.get("spans", [])
    return run, bench.bulk_create(rows)


def one_log(bench: Bench, database: str) -> Run:
    """One lifter's 5,000 sets, which come in by one commit."""
    bench.lines, content, bench.content = ONE_LOG, bench.content, log_text(ONE_LOG, ["Lifter Aa"])
    run = Run()
    with beside("probe", database) as found:
        bench.undo(bench.take_in(run), run)
    run.spans, bench.content = found.get("spans", []), content
    return run


def with_staff(bench: Bench, database: str, port: int, who: Path) -> Run:
    run = Run()
    with ExitStack() as others:
        found = others.enter_context(beside("probe", database)) if database else {}
        staff = others.enter_context(beside("staff", str(port), str(who)))
        began = time.monotonic()
        time.sleep(IDLE)
        run.windows["idle"] = (began, time.monotonic())
        batch = bench.take_in(run)
        bench.undo(batch, run)
    run.spans, run.waits, run.bad = found.get("spans", []), staff["waits"], staff["bad"]
    return run


def tell(said: str, values: list[float], unit: str = "s", digits: int = 1) -> None:
    each = ", ".join(f"{value:.{digits}f}" for value in values)
    print(f"| {said} | {min(values):.{digits}f} {unit} | {each} |")


def tell_all(quiet: list[Run], plain: list[float], busy: list[Run], lost: int) -> None:
    print("| alone | least | every run |\n|---|---|---|")
    for name in (*IMPORT, "undo"):
        tell(name, [run.parts[name] for run in quiet], digits=2 if name == "undo" else 1)
    tell("the import as a whole", [run.whole for run in quiet])
    tell("bulk_create of the same rows", plain)
    print(f"| ratio of the two least (target: at most 2.2) | {min(r.whole for r in quiet) / min(plain):.2f} | |")
    tell("largest memory of the process (target: below 300)", [quiet[0].memory], "MB", 0)
    for name in ("take in", "undo"):
        if quiet[0].spans:
            tell(f"nobody else can write: {name}", [run.longest(run.spans, name) for run in quiet], digits=2)
    print("\n| twenty staff, a set each every half second | least | every run |\n|---|---|---|")
    tell("the import as a whole", [run.whole for run in busy])
    for name in ("take in", "undo"):
        if busy[0].spans:
            tell(f"nobody else can write: {name}", [run.longest(run.spans, name) for run in busy], digits=2)
        tell(f"longest request of staff: {name}", [run.longest(run.waits, name) for run in busy], digits=2)
    for name in ("idle", *IMPORT[:3], "undo"):
        tell(f"99 in 100 requests below: {name}", [run.p99(name) for run in busy], digits=3)
    ratios = [run.p99("import") / run.p99("idle") for run in busy]
    print(f"| whole import against idle, 99 in 100 (target: at most 3) | {min(ratios):.2f} | "
          f"{', '.join(f'{one:.2f}' for one in ratios)} |")  # fmt: skip
    waits = [sorted(took for _, took in run.waits) for run in busy]
    tell("requests of staff: half below", [w[len(w) // 2] for w in waits], digits=3)
    tell("99 in 100 below", [w[int(len(w) * 0.99)] for w in waits], digits=2)
    tell("longest in the whole import", [w[-1] for w in waits], digits=2)
    refused = [one for run in busy for one in run.bad]
    print(f"| requests, not stored, lost | {sum(map(len, waits)):,}, {len(refused)}, {lost} | {refused[:2]} |")


def main(lines: int, runs: int) -> None:
    engine = dj_database_url.parse(os.environ.get("DATABASE_URL", "sqlite:///none"))
    with tempfile.TemporaryDirectory() as folder, own_database(Path(folder), engine) as address:
        os.environ |= {"DATABASE_URL": address, "STANCEBOOK_VAR": folder}
        server = OwnServer(Path(folder), address, threads=10)
        who = server.seed(staff=20)
        import django
        from django.conf import settings

        django.setup()
        settings.DEBUG = False
        from athletes.models import ImportBatch, LiftSet

        bench = Bench(lines)
        phones = Path(folder) / "who.json"
        phones.write_text(json.dumps(who | {"lifters": [p.pk for p in bench.people]}))
        database = address.removeprefix("sqlite:///") if address.startswith("sqlite") else ""
        single = [one_log(bench, database) for _ in range(runs)] if database else []
        bench.lines = lines
        quiet, plain = zip(*(alone(bench, database) for _ in range(runs)), strict=True)
        server.start()
        try:
            busy = [with_staff(bench, database, server.port, phones) for _ in range(runs)]
        finally:
            server.kill()
        stored = sum(len(run.waits) - len(run.bad) for run in busy)
        lost = stored - LiftSet.objects.filter(batch=None).count()
        assert ImportBatch.objects.filter(status="undone").count() == (2 + bool(database)) * runs
        load = ", ".join(f"{one:.1f}" for one in os.getloadavg())
        print(f"{address.split(':')[0]}; {lines:,} lines; {os.cpu_count()} cores; Python {sys.version.split()[0]}, "
              f"Django {django.__version__}; load of the machine in the last minutes: {load}\n")  # fmt: skip
        if single:
            print(f"| {ONE_LOG:,} sets of one lifter (target: at most 0.15 s) | least | every run |\n|---|---|---|")
            for name in ("take in", "undo"):
                tell(f"nobody else can write: {name}", [run.longest(run.spans, name) for run in single], digits=3)
            print()
        tell_all(list(quiet), list(plain), busy, lost)


if __name__ == "__main__":
    os.environ |= {"DJANGO_DEBUG": "1", "DJANGO_SETTINGS_MODULE": "config.settings"}
    given = [int(one) for one in sys.argv[1:3]]
    main(*given, *(100_000, 3)[len(given) :])
