"""Pages of the demo clubs by role, written to a folder or compared with one, to see what a change does to them.

    python -m tests.snapshots write FOLDER      python -m tests.snapshots compare FOLDER

Builds the demo in a database of its own, opens every address without further arguments and every address of an athlete
for every role of both clubs, and keeps status and text. Tokens, nonces and content hashes are taken out, so that two
runs of the same code on the same day give the same files. `compare` prints each page that differs and ends with 1.
"""

import difflib
import io
import os
import re
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

ROLES = ("owner", "coach", "staff", "athlete")
CLUBS = ("kiln", "weir")
ATHLETES = 4  # of each club; more show no further kind of page
CHANGING = (
    re.compile(r'name="csrfmiddlewaretoken" value="[^"]*"'),
    re.compile(r'nonce="[^"]*"'),
    re.compile(r'"token": "[^"]*"'),
    re.compile(r"(\.[0-9a-f]{12})(?=\.(?:css|js|svg))"),
    re.compile(r"/static/[\w./-]+"),
    re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d[.\d]*(?:\+00:00|Z)?"),
    re.compile(r"\b\d\d:\d\d\b"),
    re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}"),
)


def addresses() -> Iterator[tuple[str, bool]]:
    """Name of each address that needs no argument, or only the athlete's number (then True)."""
    from django.urls import URLPattern, URLResolver, get_resolver

    def walk(patterns: list[URLPattern | URLResolver], front: str) -> Iterator[tuple[str, str]]:
        for one in patterns:
            route = front + str(one.pattern)
            if isinstance(one, URLResolver):
                yield from walk(one.url_patterns, route)
            elif one.name:
                yield one.name, route

    for name, route in walk(get_resolver().url_patterns, ""):
        if "<" not in route:
            yield name, False
        elif route.startswith("athletes/<int:pk>/") and route.count("<") == 1:
            yield name, True


def pages() -> Iterator[tuple[str, str]]:
    """Name of a page and role, and what it answered."""
    from django.core.management import call_command
    from django.test import Client
    from django.urls import reverse

    from athletes.models import Athlete, User

    call_command("migrate", verbosity=0)
    call_command("load_demo", verbosity=0, stdout=io.StringIO())
    for club in CLUBS:
        for role in ROLES:
            user = User.objects.get(email=f"{role}@{club}.example")
            client = Client(SERVER_NAME="localhost")
            client.force_login(user)
            own = Athlete.objects.filter(club=user.memberships.get().club).order_by("pk")[:ATHLETES]
            for name, of_athlete in sorted(set(addresses())):
                for args in [[a.pk] for a in own] if of_athlete else [[]]:
                    if name == "sign-out":
                        continue
                    answer = client.get(reverse(name, args=args))
                    body = b"".join(answer.streaming_content) if answer.streaming else answer.content
                    where = "-".join([club, role, name, *map(str, args)])
                    yield where, f"{answer.status_code} {answer.get('Location', '')}\n" + plain(body, answer)


def plain(body: bytes, answer: object) -> str:
    """The text of an answer without what changes from run to run."""
    kind = str(answer.get("Content-Type", "")) if hasattr(answer, "get") else ""
    if not kind.startswith(("text/", "application/json", "application/manifest")):
        return f"{kind}, not compared"
    text = body.decode(errors="replace")
    for pattern in CHANGING:
        text = pattern.sub("#", text)
    return text


def main(verb: str, folder: Path) -> int:
    with tempfile.TemporaryDirectory() as var:
        os.environ |= {"DJANGO_SETTINGS_MODULE": "config.settings", "DJANGO_DEBUG": "1", "STANCEBOOK_VAR": var}
        import django

        django.setup()
        folder.mkdir(parents=True, exist_ok=True)
        seen, different = 0, []
        for name, text in pages():
            seen += 1
            file = folder / f"{name}.txt"
            if verb == "write":
                file.write_bytes(text.encode())
            elif not file.exists() or file.read_bytes() != text.encode():
                different.append(name)
                old = file.read_text().splitlines() if file.exists() else []
                print(name, *list(difflib.unified_diff(old, text.splitlines(), lineterm="", n=0))[2:6], sep="\n  ")
    print(f"{seen} pages, {len(different)} differ" if verb == "compare" else f"{seen} pages written")
    return 1 if different else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], Path(sys.argv[2])))
