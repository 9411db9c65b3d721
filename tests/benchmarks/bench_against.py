"""Times pages of this tree against another one (an older checkout), in one run, in turn, on the same data.

    python -m tests.benchmarks.bench_against FOLDER [ROUNDS]

Two processes, one a tree, each with its own throw-away database; the page is asked of one, then of the other, so that
whatever else the machine does falls on both. Printed are the least milliseconds of the processor and their ratio.
"""

import os
import subprocess
import sys
import tempfile
import time
from datetime import timedelta
from pathlib import Path

HERE = Path(__file__).resolve().parents[2]
PAGES = (
    ("squad, all 500 rows", "/squad/table/?page=all", 0),
    ("squad, 100 of 500 rows", "/squad/table/", 0),
    ("weak link, as stored", "/athletes/{}/weak-link/", 0),
    ("weak link, after one set more", "/athletes/{}/weak-link/", 1),
)


def with_misses(athlete: object) -> None:
    """Measures the lifter and gives them five noted misses, so that the page has something to work out."""
    from django.utils import timezone

    from athletes.models import LiftSet, Measurement, MeasuringVisit

    today = timezone.localdate()
    visit = MeasuringVisit.objects.create(athlete=athlete, day=today - timedelta(days=30))
    taken = {"stature": 176.0, "sitting_height": 91.5, "arm_span": 179.0, "standing_grip_height": 76.0, "mass": 84.0}
    for key, value in taken.items():
        unit = "kg" if key == "mass" else "cm"
        Measurement.objects.create(visit=visit, key=key, typed=f"{value:g}", unit=unit, value=value)
    for week, place in enumerate(("mid-shin", "below-knee", "below-knee", "at-knee", "floor")):
        LiftSet.objects.create(
            athlete=athlete, day=today - timedelta(days=7 * week + 1), order=9, load_typed="185", load_unit="kg",
            load_kg=185.0, reps_made=0, reps_tried=1, result="missed", miss_position=place, style="conventional",
            bar_kind="stiff", grip="mixed",
        )  # fmt: skip


def serve(tree: str) -> None:
    """Lays the data, then answers each line "address with-a-new-set" with the milliseconds of one answer."""
    os.chdir(tree)
    sys.path[:] = [tree, *(p for p in sys.path if Path(p or ".").resolve() != HERE)]
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "config.settings")
    import django

    django.setup()
    from django.conf import settings
    from django.core.management import call_command
    from django.test import Client

    settings.DEBUG, settings.ALLOWED_HOSTS, settings.SECURE_SSL_REDIRECT = False, ["*"], False
    call_command("migrate", verbosity=0)
    from athletes.models import Athlete
    from tests.benchmarks.bench_squad_page import build, new_set, refresh_all

    coach = build(500, 100)
    first = Athlete.objects.first()
    with_misses(first)
    refresh_all()
    client = Client()
    client.force_login(coach, backend="django.contrib.auth.backends.ModelBackend")
    print("ready", flush=True)
    for line in sys.stdin:
        address, fresh = line.split()
        if fresh == "1":
            new_set()
        place = address.format(first.pk)
        place = place if resolves(place) else place.replace("/squad/table/", "/squad/")  # its address before the wall
        began = time.process_time()
        answer = client.get(place)
        spent = 1000 * (time.process_time() - began)
        assert answer.status_code == 200, (address, answer.status_code)
        print(spent, flush=True)


def resolves(address: str) -> bool:
    """Whether this tree has a page there."""
    from django.urls import Resolver404, resolve

    try:
        resolve(address.partition("?")[0])
    except Resolver404:
        return False
    return True


def ask(process: subprocess.Popen[str], address: str, fresh: int) -> float:
    """Milliseconds of one answer."""
    assert process.stdin and process.stdout
    process.stdin.write(f"{address} {fresh}\n")
    process.stdin.flush()
    return float(process.stdout.readline())


def started(tree: str, var: str) -> subprocess.Popen[str]:
    command = [sys.executable, str(Path(__file__).resolve()), "--serve", tree]
    held = {**os.environ, "STANCEBOOK_VAR": var, "DJANGO_DEBUG": "1"}
    return subprocess.Popen(command, env=held, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)


def main() -> None:
    other, rounds = str(Path(sys.argv[1]).resolve()), int(sys.argv[2]) if len(sys.argv) > 2 else 15
    with tempfile.TemporaryDirectory() as one, tempfile.TemporaryDirectory() as two:
        both = (started(other, one), started(str(HERE), two))
        for process in both:
            assert process.stdout and process.stdout.readline().strip() == "ready"
        print("| page | before | now | ratio |\n|---|---|---|---|")
        for name, address, fresh in PAGES:
            for process in both:
                ask(process, address, fresh)
            times = [[ask(process, address, fresh) for process in both] for _ in range(rounds)]
            before, now = (min(column) for column in zip(*times, strict=True))
            print(f"| {name} | {before:.0f} ms | {now:.0f} ms | {now / before:.2f} |", flush=True)
        for process in both:
            assert process.stdin
            process.stdin.close()
            process.wait()


if __name__ == "__main__":
    serve(sys.argv[2]) if sys.argv[1] == "--serve" else main()
