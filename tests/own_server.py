"""A server of our own, in its own process with its own database, that a test can kill and start again."""

import json
import os
import signal
import socket
import subprocess
import sys
import time
import urllib.request
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import psycopg
from psycopg import sql

ROOT = Path(__file__).resolve().parent.parent
SEED = """
import json, django
django.setup()
from django.conf import settings
settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
from django.contrib.sessions.backends.db import SessionStore
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from athletes.models import Membership, Athlete, Presence
from django.utils import timezone
from tests.cast import make_cast, person
cast = make_cast()
for n in range({staff}):
    cast.users[f"staff{{n}}"] = person(f"staff{{n}}")
    Membership.objects.create(club=cast.quarry, user=cast.users[f"staff{{n}}"], role="staff")
Presence.objects.bulk_create([Presence(athlete=a, day=timezone.localdate()) for a in cast.quarry.athletes.all()])
sessions = {{}}
for name, user in cast.users.items():
    store = SessionStore()
    store[SESSION_KEY], store[BACKEND_SESSION_KEY] = str(user.pk), "django.contrib.auth.backends.ModelBackend"
    store[HASH_SESSION_KEY] = user.get_session_auth_hash()
    store.create()
    sessions[name] = store.session_key
print(json.dumps({{
    "sessions": sessions,
    "users": {{n: u.pk for n, u in cast.users.items()}},
    "clubs": {{"quarry": cast.quarry.pk, "harbour": cast.harbour.pk}},
    "athletes": {{n: a.pk for n, a in cast.athletes.items()}},
}}))
"""


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


class OwnServer:
    """gunicorn on a free port; `kill` ends it without warning, `start` brings it back on the same data."""

    def __init__(self, var: Path, database_url: str, threads: int = 8) -> None:
        self.port, self.threads, self.process = free_port(), threads, None
        self.url = f"http://127.0.0.1:{self.port}"
        self.env = {
            **os.environ, "DJANGO_DEBUG": "1", "STANCEBOOK_VAR": str(var), "DATABASE_URL": database_url,
            "DJANGO_SETTINGS_MODULE": "config.settings", "OMP_NUM_THREADS": "1",
            "STANCEBOOK_TASKS": "immediate",
        }  # fmt: skip

    def run(self, *args: str) -> str:
        done = subprocess.run(
            [sys.executable, *args], cwd=ROOT, env=self.env, capture_output=True, text=True, check=False
        )
        assert done.returncode == 0, done.stderr
        return done.stdout

    def seed(self, staff: int = 0) -> dict[str, dict[str, object]]:
        self.run("manage.py", "migrate", "--verbosity", "0")
        return json.loads(self.run("-c", SEED.format(staff=staff)).splitlines()[-1])

    def query(self, code: str) -> object:
        """The JSON that a piece of code prints, run beside the server on the same database."""
        head = "import json, django\ndjango.setup()\nfrom athletes.models import *\n"
        return json.loads(self.run("-c", head + f"print(json.dumps({code}))"))

    def start(self) -> None:
        command = [
            sys.executable, "-m", "gunicorn", "config.wsgi", "--bind", f"127.0.0.1:{self.port}", "--workers", "2",
            "--threads", str(self.threads), "--log-level", "warning", "--worker-tmp-dir", "/dev/shm",
        ]  # fmt: skip
        self.process = subprocess.Popen(command, cwd=ROOT, env=self.env, start_new_session=True)
        deadline = time.monotonic() + 30
        while time.monotonic() < deadline:
            try:
                urllib.request.urlopen(f"{self.url}/sw.js", timeout=2).close()
            except OSError:
                time.sleep(0.1)
            else:
                return
        raise AssertionError("the server did not start")

    def kill(self) -> None:
        if self.process is not None:
            os.killpg(self.process.pid, signal.SIGKILL)
            self.process.wait()
            self.process = None


@contextmanager
def own_database(var: Path, settings_database: dict[str, object]) -> Iterator[str]:
    """The address of an empty database of the kind the test run uses."""
    if settings_database["ENGINE"].endswith("sqlite3"):
        yield f"sqlite:///{var / 'own.sqlite3'}"
        return
    server = {
        "host": settings_database["HOST"] or None, "port": settings_database["PORT"] or None,
        "user": settings_database["USER"] or None, "password": settings_database["PASSWORD"] or None,
    }  # fmt: skip
    name = f"stancebook_own_{uuid.uuid4().hex[:12]}"
    with psycopg.connect(**server, dbname="postgres", autocommit=True) as link:
        link.execute(sql.SQL("CREATE DATABASE {}").format(sql.Identifier(name)))
        yield psycopg_address(server, name)
        link.execute(sql.SQL("DROP DATABASE {} WITH (FORCE)").format(sql.Identifier(name)))


def psycopg_address(server: dict[str, object], name: str) -> str:
    password = f":{server['password']}" if server["password"] else ""
    port = f":{server['port']}" if server["port"] else ""
    return f"postgres://{server['user'] or ''}{password}@{server['host'] or ''}{port}/{name}"
