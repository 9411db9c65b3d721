"""How long 100,000 sets take to come in, beside Django's own bulk_create of the same rows in the same run.

`python tests/benchmarks/bench_import.py [lines]` makes a database of its own (SQLite in a temporary folder, or the
one that DATABASE_URL names, which must be empty), lets twenty staff log while the import runs, and prints the tables.
"""

import os
import random
import resource
import sys
import tempfile
import threading
import time
from datetime import date, timedelta
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
FOLDER = tempfile.TemporaryDirectory()
os.environ.setdefault("DATABASE_URL", f"sqlite:///{FOLDER.name}/log.sqlite3")
os.environ |= {"DJANGO_DEBUG": "1", "STANCEBOOK_VAR": FOLDER.name, "DJANGO_SETTINGS_MODULE": "config.settings"}
sys.path.insert(0, str(ROOT))

import django  # noqa: E402

django.setup()

from django.conf import settings  # noqa: E402
from django.core.files.uploadedfile import SimpleUploadedFile  # noqa: E402
from django.core.management import call_command  # noqa: E402
from django.db import connection, reset_queries, transaction  # noqa: E402

from athletes.models import Athlete, Club, ImportBatch, LiftSet, User  # noqa: E402
from athletes.transfer import move as mover  # noqa: E402
from athletes.transfer.staging.steps import advance  # noqa: E402
from athletes.transfer.staging.upload import begin  # noqa: E402

settings.DEBUG = False
STAFF = 20
STOP = threading.Event()


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


def staff(athlete: Athlete, waits: list[float], lost: list[str]) -> None:
    """Logs a set every tenth of a second and notes how long each commit took."""
    while not STOP.is_set():
        began = time.monotonic()
        try:
            with transaction.atomic():
                LiftSet.objects.create(
                    athlete=athlete, day=date(2026, 11, 25), load_typed="100", load_unit="kg", load_kg=100
                )
        except Exception as problem:
            lost.append(repr(problem))
        waits.append(time.monotonic() - began)
        time.sleep(0.1)
    connection.close()


def timed(said: str, table: list[tuple[str, float]], began: float) -> float:
    now = time.monotonic()
    table.append((said, now - began))
    return now


def run_import(
    club: Club, content: bytes, table: list[tuple[str, float]], locks: list[tuple[float, float]]
) -> ImportBatch:
    insert = mover._insert_all

    def watched(batch: ImportBatch) -> None:
        began, worked = time.monotonic(), time.thread_time()
        insert(batch)
        transaction.on_commit(lambda: locks.append((time.monotonic() - began, time.thread_time() - worked)))

    mover._insert_all = watched
    began = time.monotonic()
    batch = begin(club, None, SimpleUploadedFile("log.csv", content), 10**9)
    while True:
        batch = advance(batch.pk, 5)
        if batch.status != "staging":
            break
    began = timed("read, check and stage every line", table, began)
    assert mover.take_in(batch) == "", batch.reason
    while True:
        batch = advance(batch.pk, 5)
        if batch.status != "moving":
            break
    began = timed("lay out and move", table, began)
    while batch.options.get("phase"):
        batch = advance(batch.pk, 5)
    timed("tidy up", table, began)
    mover._insert_all = insert
    return batch


def bulk_create(batch: ImportBatch, club: Club) -> float:
    """Django's own way with the same rows: objects from plain values, then bulk_create in one transaction."""
    columns = [f.attname for f in LiftSet._meta.concrete_fields if f.attname not in ("id", "uid", "batch_id")]
    rows = list(LiftSet.objects.filter(batch=batch).values(*columns))
    LiftSet.objects.filter(batch=batch)._raw_delete(using="default")
    reset_queries()
    began = time.monotonic()
    with transaction.atomic():
        LiftSet.objects.bulk_create((LiftSet(**row) for row in rows), batch_size=500)
    return time.monotonic() - began


def main(lines: int) -> None:
    call_command("migrate", verbosity=0)
    club = Club.objects.create(name="Bench Hall")
    User.objects.create_user(username="bench", email="bench@example.test", password="x")
    people = [
        Athlete.objects.create(club=club, name=f"Lifter {chr(65 + i // 26)}{chr(97 + i % 26)}", sex="m")
        for i in range(40)
    ]
    content = log_text(lines, [p.name for p in people])
    quiet: list[tuple[str, float]] = []
    locks: list[tuple[float, float]] = []
    batch = run_import(club, content, quiet, locks)
    assert batch.status == "done" and LiftSet.objects.filter(batch=batch).count() == lines, batch.reason
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    plain = bulk_create(batch, club)
    LiftSet.objects.all()._raw_delete(using="default")
    ImportBatch.objects.all().delete()

    waits: list[list[float]] = [[] for _ in range(STAFF)]
    lost: list[str] = []
    threads = [threading.Thread(target=staff, args=(people[i], waits[i], lost)) for i in range(STAFF)]
    for thread in threads:
        thread.start()
    busy: list[tuple[str, float]] = []
    busy_locks: list[tuple[float, float]] = []
    batch = run_import(club, content, busy, busy_locks)
    STOP.set()
    for thread in threads:
        thread.join()
    flat = sorted(w for each in waits for w in each)
    by_hand = LiftSet.objects.filter(batch=None).count()

    total = sum(seconds for _, seconds in quiet)
    print(
        f"database: {connection.vendor}; {lines:,} lines; {os.cpu_count()} cores; Python "
        f"{sys.version.split()[0]}, Django {django.__version__}"
    )
    for said, seconds in quiet:
        print(f"| {said} | {seconds:.1f} s |")
    print(f"| the import as a whole | {total:.1f} s |")
    print(f"| bulk_create of the same rows | {plain:.1f} s |")
    print(f"| ratio | {total / plain:.2f} |")
    print(f"| largest memory of the process | {memory:.0f} MB |")
    print(f"| write lock of the move, alone: by the clock, work in it | {locks[0][0]:.2f} s, {locks[0][1]:.2f} s |")
    busy_lock = f"{busy_locks[0][0]:.2f} s, {busy_locks[0][1]:.2f} s"
    print(f"| write lock of the move, twenty staff logging: by the clock, work in it | {busy_lock} |")
    print(f"| the import as a whole, twenty staff logging | {sum(s for _, s in busy):.1f} s |")
    print(f"| sets logged by staff meanwhile | {by_hand:,} of {len(flat):,} tried, {len(lost)} lost |")
    print(
        f"| their commits: half below, 99 in 100 below, longest | {flat[len(flat) // 2]:.3f} s, "
        f"{flat[int(len(flat) * 0.99)]:.3f} s, {flat[-1]:.2f} s |"
    )
    print(f"load of the machine in the last minutes: {', '.join(f'{load:.1f}' for load in os.getloadavg())}")
    print(f"status with staff: {batch.status} {batch.reason}; errors: {lost[:2]}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 100_000)
