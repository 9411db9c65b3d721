"""On a database that takes no writes (a full disk, a replica) every page that only reads still answers.

A form that cannot be kept says so and gives back what was typed.
"""

from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from django.db import IntegrityError, InternalError, OperationalError, connection
from django.urls import reverse

from athletes.access import audit
from athletes.models import AccessEntry
from athletes.web import errors
from tests.addresses import whole_table
from tests.addresses.frame import OK
from tests.addresses.world import make_world
from tests.athletes.log.lift_forms import post
from tests.test_every_address import WHO, sample

TABLE = whole_table()
READERS = ("owner", "staff", "self")
READABLE = sorted(name for name, line in TABLE.items() if any(line.get[role] == OK for role in READERS))


@contextmanager
def refusing_writes() -> Iterator[None]:
    """The open connection refuses every INSERT, UPDATE and DELETE until the end of the block."""
    on, off = {
        "sqlite": ("PRAGMA query_only = ON", "PRAGMA query_only = OFF"),
        "postgresql": ("SAVEPOINT before_reading", "ROLLBACK TO SAVEPOINT before_reading"),
    }[connection.vendor]
    with connection.cursor() as cursor:
        cursor.execute(on)
        if connection.vendor == "postgresql":
            cursor.execute("SET LOCAL transaction_read_only = on")
    try:
        yield
    finally:
        with connection.cursor() as cursor:
            cursor.execute(off)


@pytest.mark.parametrize("name", READABLE)
def test_a_page_is_read_from_a_database_that_takes_no_writes(name, cast, signed_in):
    line, things = TABLE[name], make_world(cast)["own"]
    path = reverse(name, kwargs={part: sample(word, things) for part, word in line.args.items()}) + line.query
    clients = {role: signed_in(WHO[role]) for role in READERS if line.get[role] == OK}
    wrong = {}
    with refusing_writes():
        for role, client in clients.items():
            answer = client.get(path)
            if getattr(answer, "streaming", False):
                b"".join(answer.streaming_content)
            if answer.status_code >= 400:
                wrong[role] = answer.status_code
    assert wrong == {}


def test_a_form_that_cannot_be_kept_says_so_and_gives_back_what_was_typed(cast, signed_in):
    client, ada = signed_in("cato"), cast.athletes["ada"]
    client.raise_request_exception = False
    with refusing_writes():
        answer = post(client, ada, load_typed="182.5", note="third single")
    assert answer.status_code == 503
    page = answer.content.decode()
    assert "Not kept" in page and "third single" in page and 'value="182.5"' in page


def test_a_phone_is_told_in_its_own_way(cast, signed_in, rf):
    answer = errors.not_written(rf.post("/x/", headers={"accept": "application/json"}))
    assert answer.status_code == 503 and b"Nothing was kept" in answer.content


@pytest.mark.parametrize(
    ("error", "refused"),
    [
        (OperationalError("attempt to write a readonly database"), True),
        (OperationalError("database or disk is full"), True),
        (OperationalError("database is locked"), True),
        (OperationalError("no such table: x"), False),
        (IntegrityError("UNIQUE constraint failed"), False),
        (OSError("disk is full"), False),
    ],
)
def test_what_counts_as_a_refused_write(error, refused):
    assert audit.write_refused(error) is refused


def test_postgres_says_it_by_its_code():
    error = InternalError("in any language")
    error.__cause__ = type("Refused", (Exception,), {"sqlstate": "25006"})()
    assert audit.write_refused(error)
    error.__cause__ = type("Other", (Exception,), {"sqlstate": "22012"})()
    assert not audit.write_refused(error)


def test_looks_that_could_not_be_written_are_written_with_the_next_one(cast, monkeypatch):
    monkeypatch.setattr(audit, "UNWRITTEN", [])
    monkeypatch.setattr(audit, "UNWRITTEN_AT_MOST", 2)
    ada = cast.athletes["ada"]
    with refusing_writes():
        for page in ("lifts", "summary", "leverages"):
            audit.note_look(cast.stan, ada, page)
    assert [look.page for look in audit.UNWRITTEN] == ["summary", "leverages"]  # the oldest go first
    audit.note_look(cast.stan, ada, "trial")
    assert set(AccessEntry.objects.values_list("page", flat=True)) == {"summary", "leverages", "trial"}
    assert audit.UNWRITTEN == []
