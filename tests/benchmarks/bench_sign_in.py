"""How long a refused sign-in and a reset take for an address that has an account and for one that has none.

Real password hashing, a database in memory, 60 alternating tries each, another address every time so that no count of
tries runs out. Prints a table; the claim is that the two medians differ by less than the spread of either.
"""

import logging
import os
import statistics
import time

TRIES = 60


def seconds(path: str, body: dict[str, str]) -> float:
    from django.test import Client

    client = Client()
    begun = time.perf_counter()
    client.post(path, body)
    return time.perf_counter() - begun


def line(name: str, times: list[float]) -> str:
    low, _, high = statistics.quantiles([1000 * t for t in times], n=4)
    return f"| {name} | {1000 * statistics.median(times):.1f} | {low:.1f} to {high:.1f} |"


def start() -> None:
    """Our settings on a database in memory, with one account per try."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "config.settings")
    os.environ.setdefault("DJANGO_DEBUG", "1")
    os.environ["DATABASE_URL"] = "sqlite://:memory:"

    import django

    django.setup()

    from django.core.management import call_command
    from django.test.utils import setup_test_environment

    from athletes.models import User

    logging.disable(logging.CRITICAL)
    setup_test_environment()
    call_command("migrate", verbosity=0)
    for n in range(TRIES):
        User.objects.create_user(f"u{n}", f"u{n}@example.test", "chalk-and-plates-7")


def main() -> None:
    start()
    taken: dict[str, list[float]] = {}
    for n in range(-3, TRIES):
        for kind, email in (("known", f"u{max(n, 0)}@example.test"), ("unknown", f"none{n}@example.test")):
            for what, path, body in (
                ("sign-in", "/sign-in/", {"username": email, "password": "wrong-wrong"}),
                ("reset", "/password-reset/", {"email": email}),
            ):
                took = seconds(path, body)
                if n >= 0:
                    taken.setdefault(f"{what}, {kind} address", []).append(took)
    print("| asked | median ms | middle half ms |\n|---|---|---|")
    print("\n".join(line(name, times) for name, times in sorted(taken.items())))


if __name__ == "__main__":
    main()
