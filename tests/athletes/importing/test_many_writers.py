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


def mixed(phone: Phone, athletes: list[int], place: int) -> list[tuple[int, str]]:
    """A whole evening of one member of staff: lifters come and go, sets are logged, two of them taken back."""
    begun = datetime.now(UTC) - timedelta(minutes=20)
    athlete = athletes[place % len(athletes)]
    loads = [400 + place * SETS_EACH + n for n in range(SETS_EACH)]
    sets = [entry(athlete, load, begun + timedelta(seconds=n)) for n, load in enumerate(loads)]
    undone = [
        {"uid": str(uuid.uuid4()), "kind": "undo", "athlete": athlete, "at": one["at"], "set": one["uid"]}
        for one in sets[:2]
    ]
    here = [
        {"uid": str(uuid.uuid4()), "kind": "here", "athlete": a, "at": begun.isoformat(), "here": n % 2 == 0}
        for n, a in enumerate(athletes * 2)
    ]
    answers = []
    for n in range(0, SETS_EACH, PER_POST):
        answers += [phone.post([here[n // PER_POST], *sets[n : n + PER_POST]]), phone.ask("GET", "/tonight/")]
    return [*answers, phone.post(undone), phone.post(undone)]


def bring_in(phone: Phone, lines: int) -> list[tuple[int, str]]:
    """A file through the pages: uploaded, brought forward step by step, taken in, and at last undone."""
    rows = "".join(f"2024-03-{1 + i % 28:02},Ada Fell,sumo,{100 + i % 90},kg,1,{1 + i % 5}\n" for i in range(lines))
    text = "date,lifter,lift,weight,unit,sets,reps\n" + rows
    edge = "----edge"
    head = f'Content-Disposition: form-data; name="file"; filename="log.csv"\r\nContent-Type: text/csv\r\n\r\n{text}'
    form = {"Content-Type": f"multipart/form-data; boundary={edge}", "X-CSRFToken": phone.token}
    answers = [phone.ask("POST", "/imports/new/", f"--{edge}\r\n{head}\r\n--{edge}--\r\n", **form)]
    pk = phone.server.query("ImportBatch.objects.get().pk")
    token = {"X-CSRFToken": phone.token, "Content-Type": "application/x-www-form-urlencoded"}
    for ask in ("", "take/", "undo/"):
        if ask:
            answers.append(phone.ask("POST", f"/imports/{pk}/{ask}", **token))
        for _ in range(200):
            answers.append(phone.ask("POST", f"/imports/{pk}/step/", Accept="application/json", **token))
            if not json.loads(answers[-1][1])["busy"]:
                break
        answers.append(phone.ask("GET", f"/imports/{pk}/"))
    return answers


@pytest.mark.slow
def test_an_import_comes_in_and_out_while_twenty_staff_do_all_kinds_of_things(server):
    athletes = [server.who["athletes"][name] for name in ("ada", "petra", "ivo")]
    phones = [Phone(server, server.who, f"staff{n}") for n in range(STAFF)]
    with ThreadPoolExecutor(STAFF + 1) as pool:
        pages = pool.submit(bring_in, Phone(server, server.who, "cato"), 4_000)
        answers = [a for done in pool.map(mixed, phones, [athletes] * STAFF, range(STAFF)) for a in done]
        imported = pages.result()
    assert {status for status, _ in answers} == {200}, [text[:200] for status, text in answers if status != 200][:3]
    assert {status for status, _ in imported} == {200, 302}, [t[:200] for s, t in imported if s not in (200, 302)][:3]
    said = [one for _, text in answers if text.startswith("{") for one in json.loads(text)["done"]]
    assert {one["status"] for one in said} == {"stored", "already"}, [s for s in said if s["status"] == "refused"][:3]
    loads = server.query("sorted(int(x) for x in LiftSet.objects.values_list('load_typed', flat=True))")
    assert loads == sorted(400 + p * SETS_EACH + n for p in range(STAFF) for n in range(2, SETS_EACH))
    trail = server.query(
        "{a: AuditEntry.objects.filter(action=a).count() for a in ('import taken in', 'import undone')}"
    )
    assert trail == {"import taken in": 1, "import undone": 1}
