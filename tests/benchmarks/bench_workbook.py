"""How long a workbook of 100,000 rows takes to open beside its page, and how long any one request waits meanwhile.

`python -m tests.benchmarks.bench_workbook [rows [runs]]` makes a database of its own (SQLite in a temporary folder),
uploads the workbook, brings it forward in steps of a second as the page does, and prints the table.
"""

import os
import random
import resource
import subprocess
import sys
import tempfile
import time
from datetime import date, timedelta
from pathlib import Path

from openpyxl import Workbook

FOLDER = tempfile.TemporaryDirectory()
os.environ |= {
    "DATABASE_URL": f"sqlite:///{FOLDER.name}/log.sqlite3", "DJANGO_DEBUG": "1", "STANCEBOOK_VAR": FOLDER.name,
    "DJANGO_SETTINGS_MODULE": "config.settings",
}  # fmt: skip

import django  # noqa: E402

django.setup()

from django.conf import settings  # noqa: E402
from django.core.files import File  # noqa: E402
from django.core.management import call_command  # noqa: E402

from athletes.importing.files.upload import begin  # noqa: E402
from athletes.importing.tasks import advance  # noqa: E402
from athletes.models import Athlete, Club  # noqa: E402

settings.DEBUG = False
NAMES = [f"Lifter {chr(65 + i // 26)}{chr(97 + i % 26)}" for i in range(40)]


def write_workbook(path: Path, rows: int) -> None:
    dice, book = random.Random(20261126), Workbook(write_only=True)
    sheet = book.create_sheet("Log")
    sheet.append(["date", "lifter", "lift", "weight", "unit", "sets", "reps", "rpe", "result", "note"])
    for i in range(rows):
        day = date(2015, 1, 1) + timedelta(days=i // 40)
        load = dice.randrange(60, 260) + 0.5 * dice.randrange(2)
        note = f"set {i}, felt as planned" if i % 3 == 0 else None
        lift = dice.choice(["sumo", "conv", "DL"])
        sheet.append([day, dice.choice(NAMES), lift, load, "kg", 1, dice.randint(1, 5), 8, "ok", note])
    book.save(path)


def one_run(club: Club, path: Path, rows: int) -> dict[str, float]:
    took: dict[str, float] = {}
    began = time.monotonic()
    with path.open("rb") as file:
        batch = begin(club, None, File(file, name="log.xlsx"), 10**9)
    took["the upload is checked and kept"] = time.monotonic() - began
    longest: dict[str, float] = {}
    spent: dict[str, float] = {}
    while batch.status == "staging":
        phase, began = str(batch.options["phase"]), time.monotonic()
        batch = advance(batch.pk, 1.0)
        step = time.monotonic() - began
        longest[phase] = max(longest.get(phase, 0.0), step)
        spent[phase] = spent.get(phase, 0.0) + step
    assert batch.status == "ready", batch.reason
    assert batch.rows.count() == rows
    took["opened, in a process of its own"] = spent["open"]
    took["read, check and stage every line"] = sum(spent.values()) - spent["open"]
    took["longest step while it is opened"] = longest["open"]
    took["longest step after that"] = max(took for phase, took in longest.items() if phase != "open")
    batch.delete()
    return took


def opener_memory(path: Path) -> float:
    """The opener once more, alone, and what Linux says of the most it held; MB."""
    code = (
        "from athletes.reader.file.workbook import apart; apart.main();"
        "print([line for line in open('/proc/self/status') if line.startswith('VmHWM')][0].split()[1])"
    )
    args = [sys.executable, "-c", code, str(path), FOLDER.name]
    env = {"PATH": os.environ["PATH"], "OPENBLAS_NUM_THREADS": "1"}
    said = subprocess.run(args, cwd=settings.BASE_DIR, env=env, capture_output=True, text=True, check=True).stdout
    return int(said) / 1024


def main(rows: int, runs: int) -> None:
    call_command("migrate", verbosity=0)
    club = Club.objects.create(name="Bench Hall")
    Athlete.objects.bulk_create(Athlete(club=club, name=name, sex="m") for name in NAMES)
    path = Path(FOLDER.name) / "made.xlsx"
    write_workbook(path, rows)
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    found = [one_run(club, path, rows) for _ in range(runs)]
    load = ", ".join(f"{one:.1f}" for one in os.getloadavg())
    print(f"{rows:,} rows, {path.stat().st_size / 2**20:.1f} MB; {os.cpu_count()} cores; Python "
          f"{sys.version.split()[0]}; load of the machine in the last minutes: {load}\n")  # fmt: skip
    print("| part | least | every run |\n|---|---|---|")
    for said in found[0]:
        each = [took[said] for took in found]
        print(f"| {said} | {min(each):.1f} s | {', '.join(f'{one:.1f}' for one in each)} |")
    here = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"| largest memory of the opener | {opener_memory(path):.0f} MB | |")
    print(f"| largest memory of the server's process, before and after | {before:.0f} MB, {here:.0f} MB | |")


if __name__ == "__main__":
    given = [int(one) for one in sys.argv[1:3]]
    main(*given, *(100_000, 2)[len(given) :])
