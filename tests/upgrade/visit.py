"""Run in a process of its own on an unpacked old database: migrates, compares with the manifest, opens the pages.

Prints one JSON object: tables and columns that differ, and every page that did not answer 200.
"""

import hashlib
import json
import sqlite3
import sys
from pathlib import Path
from typing import Any

import django

django.setup()

from django.core.management import call_command  # noqa: E402
from django.db import connection  # noqa: E402
from django.test import Client  # noqa: E402
from django.urls import reverse  # noqa: E402

from athletes.models import Athlete, ImportBatch, User  # noqa: E402

PAGES = ("summary", "leverages", "weak-link", "styles", "log", "lifts", "build", "pictures")


def table_state(table: str) -> dict[str, Any]:
    """Number of rows and a hash of each column, in the order of ids; read by the plain driver, as the manifest was."""
    database = sqlite3.connect(connection.settings_dict["NAME"])
    names = [row[1] for row in database.execute(f"PRAGMA table_info({table})")]
    order = "ORDER BY id" if "id" in names else ""
    rows = database.execute(f"SELECT * FROM {table} {order}").fetchall()
    hashed = {}
    for place, name in enumerate(names):
        values = [row[place].hex() if isinstance(row[place], bytes) else row[place] for row in rows]
        hashed[name] = hashlib.sha256(json.dumps(values).encode()).hexdigest()[:16]
    return {"rows": len(rows), "columns": hashed}


def differences(manifest: dict[str, Any]) -> list[str]:
    """What a migration lost: rows of a table that still stands, or values of a column that still stands."""
    found = []
    with connection.cursor() as cursor:
        present = set(connection.introspection.table_names(cursor))
    for table, before in manifest.items():
        if table not in present:
            found.append(f"{table} is gone")
            continue
        now = table_state(table)
        if now["rows"] != before["rows"]:
            found.append(f"{table}: {before['rows']} rows before, {now['rows']} now")
        found += [
            f"{table}.{name}"
            for name, digest in before["columns"].items()
            if name not in now["columns"] or now["columns"][name] != digest
        ]
    return found


def pages(email: str) -> list[str]:
    """Every page of every athlete of the coach's club that does not answer 200."""
    coach = User.objects.get(email=email)
    client = Client(SERVER_NAME="localhost")
    client.force_login(coach)
    club = coach.memberships.get().club
    wrong = []
    for athlete in Athlete.objects.filter(club=club):
        for name in PAGES:
            status = client.get(reverse(name, args=[athlete.pk]), follow=True).status_code
            if status != 200:
                wrong.append(f"{name} of {athlete}: {status}")
    for name in ("squad", "imports", "meets", "tonight"):
        if (status := client.get(reverse(name), follow=True).status_code) != 200:
            wrong.append(f"{name}: {status}")
    return wrong


def imports(email: str) -> dict[str, int]:
    """The page of each import by file name, with its status code."""
    client = Client(SERVER_NAME="localhost")
    client.force_login(User.objects.get(email=email))
    return {
        batch.file_name: client.get(reverse("import", args=[batch.pk]), follow=True).status_code
        for batch in ImportBatch.objects.all()
    }


if __name__ == "__main__":
    call_command("migrate", verbosity=0)
    lost = differences(json.loads(Path(sys.argv[1]).read_text()))
    json.dump(
        {
            "lost": lost,
            "pages": pages("coach@kiln.example") + pages("coach@weir.example"),
            "imports": imports("coach@kiln.example"),
        },
        sys.stdout,
    )
