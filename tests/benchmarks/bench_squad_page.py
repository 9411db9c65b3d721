"""Times the squad page of 500 athletes with 200,000 sets, read from stored profiles, in a throw-away database.

Run with `make bench`; prints a table that is kept in docs/bench-squad.md with its date.
"""

import os
import tempfile
import time
from datetime import timedelta

HEADER = "| what | value |\n|---|---|"


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
    """Seconds to compute every stored profile anew, one core."""
    from analysis.profiles import refresh, stored_profiles, today_in
    from athletes.models import Athlete, Club

    club, began = Club.objects.get(), time.perf_counter()
    day = today_in(club)
    refresh(stored_profiles(Athlete.objects.filter(club=club), "squad", day), "squad", day, seconds=1e9)
    return time.perf_counter() - began


def time_page(coach: object) -> tuple[int, list[float], int]:
    """Queries, sorted milliseconds of ten answers, and bytes of the page."""
    from django.db import connection
    from django.test import Client
    from django.test.utils import CaptureQueriesContext

    client = Client()
    client.force_login(coach, backend="django.contrib.auth.backends.ModelBackend")
    client.get("/squad/")
    with CaptureQueriesContext(
        connection,
    ) as seen:
        page = client.get("/squad/")
    spent = []
    for _ in range(10):
        began = time.perf_counter()
        client.get("/squad/")
        spent.append(1000 * (time.perf_counter() - began))
    return len(seen), sorted(spent), len(page.content)


def main() -> None:
    with tempfile.TemporaryDirectory() as var:
        os.environ["STANCEBOOK_VAR"] = var
        os.environ.setdefault("DJANGO_SETTINGS_MODULE", "config.settings")
        import django

        django.setup()
        from django.conf import settings
        from django.core.management import call_command

        settings.DEBUG = False
        settings.ALLOWED_HOSTS = ["*"]
        settings.SECURE_SSL_REDIRECT = False
        call_command("migrate", verbosity=0)
        coach = build(500, 400)
        seconds = refresh_all()
        queries, spent, size = time_page(coach)
    print(HEADER)
    print("| athletes, sets | 500, 200,000 |")
    print(f"| computing all 500 stored rows, one core | {seconds:.1f} s |")
    print(f"| queries of the page | {queries} |")
    print(f"| server time of the page, median of 10 (worst) | {spent[5]:.0f} ms ({spent[-1]:.0f} ms) |")
    print(f"| size of the page | {size / 1024:.0f} KB |")


if __name__ == "__main__":
    main()
