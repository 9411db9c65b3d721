"""Times the dashboards of one athlete with ten years and 20,000 sets; tabulates the flexible bar over 1,000 lifters.

Run with `make bench`; prints the tables that are kept in docs/bench-dashboards.md with their date. `pages` as a word
after the command leaves the bars out.
"""

import os
import random
import sys
import tempfile
import time
from datetime import timedelta
from itertools import count

import numpy as np

SETS = 20_000
DAYS = 3652
PAGES = (
    "", "report/", "progress/", "progress/?span=all", "back-load/", "bar-and-grip/", "weak-link/", "styles/",
    "trial/years/", "lifts/", "hand-over/",
)  # fmt: skip
AFTER_A_SET = 5
KINDS = (
    ({"style": "conventional"}, 1.0, 30),
    ({"style": "sumo"}, 0.98, 18),
    ({"style": "conventional", "bar_kind": "flexible"}, 1.02, 8),
    ({"style": "conventional", "straps": True}, 1.05, 8),
    ({"style": "conventional", "start": "block", "start_cm": 18}, 1.08, 6),
    ({"style": "sumo", "start": "deficit", "start_cm": 5}, 0.93, 4),
    ({"lift": "squat", "style": "", "depth_verified": True}, 0.82, 16),
    ({"lift": "romanian", "style": ""}, 0.6, 6),
    ({"lift": "row", "style": ""}, 0.45, 4),
)
POSITIONS = ("floor", "mid-shin", "below-knee", "at-knee", "mid-thigh", "lockout", "")


def build() -> tuple[object, object]:
    """A club with one athlete of ten years, and the coach."""
    from django.utils import timezone

    from athletes.models import Athlete, Club, LiftSet, Measurement, MeasuringVisit, Membership, TrainingDay, User

    club = Club.objects.create(name="Bench Hall")
    coach = User.objects.create(username="bench", email="bench@example.test")
    Membership.objects.create(club=club, user=coach, role="coach")
    athlete = Athlete.objects.create(club=club, coach=coach, name="Lifter", sex="m", standing="trained")
    today, rng = timezone.localdate(), random.Random(5)
    visit = MeasuringVisit.objects.create(athlete=athlete, day=today - timedelta(days=100))
    for key, value, unit in (("stature", 178.0, "cm"), ("mass", 92.0, "kg")):
        Measurement.objects.create(visit=visit, key=key, repeat=1, typed=str(value), unit=unit, value=value)
    rows = [one_set(LiftSet, athlete, today, rng, k) for k in range(SETS)]
    LiftSet.objects.bulk_create(rows, batch_size=2000)
    days = (today - timedelta(days=d) for d in range(0, DAYS, 4))
    TrainingDay.objects.bulk_create(TrainingDay(athlete=athlete, day=day, soreness=rng.randrange(7)) for day in days)
    return athlete, coach


def one_set(model: type, athlete: object, today: object, rng: random.Random, k: int) -> object:
    """The k-th set of a lifter who grew from 140 to 240 kg."""
    from datetime import timedelta

    ago = DAYS - k * DAYS // SETS
    tags, share, _ = rng.choices(KINDS, [weight for *_, weight in KINDS])[0]
    reps = rng.randint(1, 6)
    best = (140 + 100 * k / SETS) * share
    load = max(round(best * (0.97 - 0.03 * reps + rng.gauss(0, 0.03)) / 2.5) * 2.5, 20.0)
    made = {"bar_kind": "stiff", "grip": "mixed", "belt": True, "reps_made": reps, "rir_low": 2, "rir_high": 2}
    if tags.get("lift", "deadlift") == "deadlift" and rng.random() < 0.05:
        made |= {"reps_made": 0, "result": "missed", "miss_position": rng.choice(POSITIONS), "rir_low": None}
        made["rir_high"] = None
    elif rng.random() < 0.2:
        made["pull_seconds"] = round(rng.uniform(1.0, 3.5), 1)
    return model(
        athlete=athlete, day=today - timedelta(days=ago), order=k % 6, load_typed=f"{load:g}", load_unit="kg",
        load_kg=load, reps_tried=reps, **{**made, **tags},
    )  # fmt: skip


def new_set(athlete: object, number: int) -> None:
    """One more set of today, as staff log it all evening; every stored profile of the athlete is old then."""
    from django.utils import timezone

    from athletes.models import LiftSet

    LiftSet.objects.create(
        athlete=athlete, day=timezone.localdate(), order=number, load_typed="200", load_unit="kg", load_kg=200.0,
        reps_made=3, reps_tried=3, rir_low=2, rir_high=2, style="conventional", bar_kind="stiff", grip="mixed",
        belt=True,
    )  # fmt: skip


def forget_everything() -> None:
    """As in a process that has never seen this log."""
    from analysis.core.estimates import recompute as settled
    from analysis.core.estimates import running_best
    from analysis.core.training import back_load_review
    from analysis.core.weak_link import estimate
    from analysis.store import log_rows

    for store in (log_rows.READ, settled.KEPT, running_best.KEPT):
        store.clear()
    for kept in (log_rows._shared, log_rows._tags, log_rows._day, estimate._cached_table, back_load_review._drawn):
        kept.cache_clear()


def visits(client: object, address: str, count: int, before: object) -> list[float]:
    """Sorted milliseconds of the processor and of the clock for some visits, each after `before`."""
    clock, processor = [], []
    for number in range(count):
        before(number)
        began, working = time.perf_counter(), time.process_time()
        page = client.get(address)
        clock.append(1000 * (time.perf_counter() - began))
        processor.append(1000 * (time.process_time() - working))
        assert page.status_code == 200, page.status_code
    return [min(clock), sorted(clock)[count // 2], min(processor)]


def time_page(client: object, athlete: object, address: str, numbers: object) -> list[str]:
    """Stored, first after a new set, first after a new set in a new process; queries and size."""
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    def logged(_: int) -> None:
        new_set(athlete, next(numbers))

    def logged_elsewhere(_: int) -> None:
        logged(0)
        forget_everything()

    client.get(address)
    after_set = visits(client, address, AFTER_A_SET, logged)
    elsewhere = visits(client, address, AFTER_A_SET, logged_elsewhere)
    with CaptureQueriesContext(connection) as seen:
        page = client.get(address)
        queries = len(seen)  # later answers clear the log
    stored = visits(client, address, 15, lambda _: None)
    told = [f"{least:.0f}, {middle:.0f} ms ({busy:.0f})" for least, middle, busy in (stored, after_set, elsewhere)]
    return [*told, str(queries), f"{len(page.content) / 1024:.0f} KB"]


def bar_table() -> None:
    """The flexible bar's gain over 1,000 random lifters, by way to pull, by place of sticking, by load."""
    from analysis.core.training.bar_gain import practice_band
    from tests.simulated_bars import flexible_gains

    print("\n| pull | group | lifters | gain, 10-50-90 % | mean | the trade's band (no source) |")
    print("|---|---|---|---|---|---|")
    for name, found in flexible_gains(500, seed=7).items():
        groups = [("all", found.possible, None)]
        groups += [("sticks at the floor", found.possible & (found.stick < 0.1), None)]
        groups += [("sticks above half-way", found.possible & (found.stick > 0.5), None)]
        groups += [
            (f"best {low}-{high} kg", found.possible & (found.best >= low) & (found.best < high), practice_band(low))
            for low, high in ((0, 180), (180, 250), (250, 600))
        ]
        for words, here, band in groups:
            if here.sum() >= 10:
                low, middle, high = 100 * np.quantile(found.gain[here], (0.1, 0.5, 0.9))
                told = "" if band is None else f"{100 * band[0]:.0f}-{100 * band[1]:.0f} %"
                mean = 100 * found.gain[here].mean()
                print(
                    f"| {name} | {words} | {here.sum()} | {low:.1f} {middle:.1f} {high:.1f} % | {mean:.2f} % | {told} |"
                )


def main() -> None:
    with tempfile.TemporaryDirectory() as var:
        os.environ["STANCEBOOK_VAR"] = var
        os.environ.setdefault("DJANGO_SETTINGS_MODULE", "config.settings")
        import django

        django.setup()
        from django.conf import settings
        from django.core.management import call_command
        from django.db import connection
        from django.test import Client

        from config.collector import look_less_often

        settings.DEBUG = False
        settings.ALLOWED_HOSTS = ["*"]
        settings.SECURE_SSL_REDIRECT = False
        call_command("migrate", verbosity=0)
        athlete, coach = build()
        look_less_often()
        client, numbers = Client(), count(10)
        client.force_login(coach, backend="django.contrib.auth.backends.ModelBackend")
        print(f"{SETS:,} sets over ten years, {connection.vendor}: least, median by the clock (least of processor)\n")
        print("| page | stored | first after a new set | the same in a new process | queries | size |")
        print("|---|---|---|---|---|---|")
        addresses = [*(f"/athletes/{athlete.pk}/{page}" for page in PAGES), "/squad/", "/squad/misses/"]
        for address in addresses:
            print(f"| {address} | {' | '.join(time_page(client, athlete, address, numbers))} |")
    if "pages" not in sys.argv:
        bar_table()


if __name__ == "__main__":
    main()
