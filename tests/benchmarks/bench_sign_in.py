"""How long a refused sign-in, a reset and a change of address take for an address that has an account and for one that
has none.

Real password hashing, a database in memory, 60 alternating tries each, another address and another network address
every time so that no count of tries runs out. Prints a table; the claim is that the two medians differ by less than the
spread of either.
"""

import logging
import os
import statistics
import time

TRIES = 60


def seconds(n: int, path: str, body: dict[str, str], user: object = None) -> float:
    from django.test import Client

    client = Client(REMOTE_ADDR=f"192.0.2.{n + 10}")
    if user is not None:
        client.force_login(user, backend="django.contrib.auth.backends.ModelBackend")
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
    from athletes.models import User

    taken: dict[str, list[float]] = {}
    for n in range(-3, TRIES):
        for kind, email in (("known", f"u{max(n, 0)}@example.test"), ("unknown", f"none{n}@example.test")):
            asker = User.objects.get(username=f"u{(max(n, 0) + 1) % TRIES}")
            for what, path, body, user in (
                ("sign-in", "/sign-in/", {"username": email, "password": "wrong-wrong"}, None),
                ("reset", "/password-reset/", {"email": email}, None),
                ("change of address", "/account/email/", {"email": email, "password": "chalk-and-plates-7"}, asker),
            ):
                took = seconds(n, path, body, user)
                if n >= 0:
                    taken.setdefault(f"{what}, {kind} address", []).append(took)
    print("| asked | median ms | middle half ms |\n|---|---|---|")
    print("\n".join(line(name, times) for name, times in sorted(taken.items())))


if __name__ == "__main__":
    main()
