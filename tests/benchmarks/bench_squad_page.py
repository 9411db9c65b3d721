"""Times the squad page of 500 athletes with 200,000 sets, read from stored profiles, in a throw-away database.

Run with `make bench`; prints a table that is kept in docs/bench-squad.md with its date.
"""

import os
import tempfile
import time
from datetime import timedelta

HEADER = "| what | queries | least, median by the clock | least of processor | size |\n|---|---|---|---|---|"


def build(athletes: int, sets_each: int) -> object:
    """A club with that many athletes and sets, and its coach."""
    from django.utils import timezone

    from athletes.models import Athlete, Club, LiftSet, Membership, User

    club = Club.objects.create(name="Bench Hall")
    coach = User.objects.create(username="bench", email="bench@example.test")
    Membership.objects.create(club=club, user=coach, role="coach")
    people = [
        Athlete(club=club, coach=coach, name=f"Lifter {i:03d}", name_key="", sex="mf"[i % 2], standing="trained")
        for i in range(athletes)
    ]
    Athlete.objects.bulk_create(people)
    today = timezone.localdate()
    for person in people:
        LiftSet.objects.bulk_create(
            LiftSet(
                athlete=person,
                day=today - timedelta(days=(sets_each - k) // 3 * 3),
                order=k % 3,
                load_typed=str(load := 120 + k % 40),
                load_unit="kg",
                load_kg=load,
                reps_made=1 + k % 5,
                reps_tried=1 + k % 5,
                rir_low=2,
                rir_high=2,
                style="sumo" if k % 4 == 0 else "conventional",
                bar_kind="stiff",
                grip="mixed",
            )
            for k in range(sets_each)
        )
    return coach


def refresh_all() -> float:
    """Seconds of the processor to compute every stored row anew, one core."""
    from analysis.store.profiles import refresh, stored_profiles, today_in
    from athletes.models import Athlete, Club

    club, began = Club.objects.get(), time.process_time()
    day = today_in(club)
    refresh(stored_profiles(Athlete.objects.filter(club=club), "squad", day, lambda _: True), "squad", day, seconds=1e9)
    return time.process_time() - began


def time_page(client: object, address: str, before: object = lambda: None) -> tuple[int, list[float], int]:
    """Queries, then least and median milliseconds by the clock and least of the processor of ten answers; bytes."""
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    client.get(address)
    with CaptureQueriesContext(connection) as seen:
        page = client.get(address)
    queries, clock, processor = len(seen), [], []
    for _ in range(10):
        before()
        began, working = time.perf_counter(), time.process_time()
        client.get(address)
        clock.append(1000 * (time.perf_counter() - began))
        processor.append(1000 * (time.process_time() - working))
    return queries, [min(clock), sorted(clock)[5], min(processor)], len(page.content)


def new_set() -> None:
    """One more set of somebody, whose stored row is old then."""
    from django.utils import timezone

    from athletes.models import Athlete, LiftSet

    LiftSet.objects.create(
        athlete=Athlete.objects.first(), day=timezone.localdate(), load_typed="150", load_unit="kg", load_kg=150.0,
        reps_made=2, reps_tried=2, rir_low=2, rir_high=2, style="sumo", bar_kind="stiff", grip="mixed",
    )  # fmt: skip


def report(coach: object, seconds: float) -> None:
    """The table."""
    from django.test import Client

    client = Client()
    client.force_login(coach, backend="django.contrib.auth.backends.ModelBackend")
    print(HEADER)
    print(f"| computing all 500 stored rows, one core | | | {seconds:.1f} s | |")
    for what, address, before in (
        ("one page of 100 of 500 rows", "/squad/table/", lambda: None),
        ("the same, first after a set of one of them", "/squad/table/", new_set),
        ("all 500 rows on one page, to print", "/squad/table/?page=all", lambda: None),
        ("people", "/people/", lambda: None),
        ("tonight's board", "/tonight/", lambda: None),
        ("misses of this year", "/squad/misses/", lambda: None),
    ):
        queries, (least, middle, busy), size = time_page(client, address, before)
        told = f"{queries} | {least:.0f}, {middle:.0f} ms | {busy:.0f} ms | {size / 1024:.0f} KB"
        print(f"| {what} | {told} |")


def main() -> None:
    with tempfile.TemporaryDirectory() as var:
        os.environ["STANCEBOOK_VAR"] = var
        os.environ.setdefault("DJANGO_SETTINGS_MODULE", "config.settings")
        import django

        django.setup()
        from django.conf import settings
        from django.core.management import call_command

        from config.collector import look_less_often

        settings.DEBUG = False
        settings.ALLOWED_HOSTS = ["*"]
        settings.SECURE_SSL_REDIRECT = False
        call_command("migrate", verbosity=0)
        coach = build(500, 400)
        look_less_often()
        report(coach, refresh_all())


if __name__ == "__main__":
    main()
