"""Twenty staff writing at once, from phones that repeat themselves: no 500, no lost row, no row twice.

The server runs in its own processes on a database of the kind this test run uses: SQLite in WAL mode with immediate
transactions, or PostgreSQL when DATABASE_URL names one.
"""

import json
import uuid
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta
from http.client import HTTPConnection

import pytest
from django.conf import settings

from tests.own_server import OwnServer, own_database

STAFF, SETS_EACH, PER_POST = 20, 12, 4


class Phone:
    """One staff phone: a session, a token, and posts of queued entries."""

    def __init__(self, server: OwnServer, who: dict, name: str) -> None:
        self.server, self.user, self.club = server, who["users"][name], who["clubs"]["quarry"]
        self.cookies = {"sessionid": who["sessions"][name]}
        status, body = self.ask("GET", "/floor/token/")
        assert status == 200, body
        self.token = json.loads(body)["token"]

    def ask(self, method: str, path: str, body: str = "", **headers: str) -> tuple[int, str]:
        link = HTTPConnection("127.0.0.1", self.server.port, timeout=60)
        cookies = "; ".join(f"{k}={v}" for k, v in self.cookies.items())
        link.request(method, path, body or None, {"Cookie": cookies, **headers})
        answer = link.getresponse()
        text = answer.read().decode()
        for name, value in answer.getheaders():
            if name == "Set-Cookie" and value.startswith("csrftoken="):
                self.cookies["csrftoken"] = value.split(";")[0].split("=", 1)[1]
        link.close()
        return answer.status, text

    def post(self, entries: list[dict]) -> tuple[int, str]:
        sent = json.dumps({"user": self.user, "club": self.club, "entries": entries})
        head = {"Content-Type": "application/json", "X-CSRFToken": self.token}
        return self.ask("POST", "/floor/entries/", sent, **head)


def entry(athlete: int, load: int, at: datetime) -> dict:
    fields = {"lift": "deadlift", "style": "sumo", "load_typed": str(load), "load_unit": "kg", "reps_tried": 1,
              "result": "made", "dead_stop": True}  # fmt: skip
    return {"uid": str(uuid.uuid4()), "kind": "set", "athlete": athlete, "at": at.isoformat(), "fields": fields}


def work(phone: Phone, athletes: list[int], place: int) -> list[tuple[int, str]]:
    """Log sets for every lifter in small posts, each post sent twice as after a lost answer; look at the board too."""
    begun = datetime.now(UTC) - timedelta(minutes=30)
    mine = [
        entry(athletes[n % len(athletes)], 100 + place * SETS_EACH + n, begun + timedelta(seconds=n))
        for n in range(SETS_EACH)
    ]
    answers = []
    for start in range(0, SETS_EACH, PER_POST):
        batch = mine[start : start + PER_POST]
        answers += [phone.post(batch), phone.post(batch), phone.ask("GET", "/floor/state/")]
    return answers


@pytest.fixture
def server(tmp_path):
    with own_database(tmp_path, settings.DATABASES["default"]) as address:
        own = OwnServer(tmp_path, address, threads=10)
        own.who = own.seed(staff=STAFF)
        own.start()
        yield own
        own.kill()


def test_twenty_staff_at_once_lose_nothing_and_write_nothing_twice(server):
    athletes = [server.who["athletes"][name] for name in ("ada", "petra", "ivo")]
    phones = [Phone(server, server.who, f"staff{n}") for n in range(STAFF)]
    with ThreadPoolExecutor(STAFF) as pool:
        answers = [a for done in pool.map(work, phones, [athletes] * STAFF, range(STAFF)) for a in done]
    assert {status for status, _ in answers} == {200}, [text[:200] for status, text in answers if status != 200][:3]
    said = [one["status"] for _, text in answers for one in json.loads(text).get("done", [])]
    assert said.count("stored") == said.count("already") == STAFF * SETS_EACH
    loads = server.query("sorted(int(x) for x in LiftSet.objects.values_list('load_typed', flat=True))")
    assert loads == list(range(100, 100 + STAFF * SETS_EACH))
    added = server.query("AuditEntry.objects.filter(action='added').count()")
    assert added == STAFF * SETS_EACH


def test_twenty_phones_sending_the_very_same_entry_write_one_row(server):
    one = entry(server.who["athletes"]["ada"], 180, datetime.now(UTC))
    phones = [Phone(server, server.who, "staff0") for _ in range(STAFF)]
    with ThreadPoolExecutor(STAFF) as pool:
        answers = list(pool.map(lambda phone: phone.post([one]), phones))
    assert {status for status, _ in answers} == {200}
    said = sorted(json.loads(text)["done"][0]["status"] for _, text in answers)
    assert said == ["already"] * (STAFF - 1) + ["stored"]
    assert server.query("LiftSet.objects.count()") == 1
