"""Twenty staff at a real server, and a probe of the write lock: run beside an import by the benches.

`python -m tests.benchmarks.staff_at_work staff PORT FILE` posts sets from twenty phones until its input ends, and
`... probe DATABASE` asks SQLite for the write lock every two thousandths of a second; both print JSON.
"""

import json
import sqlite3
import sys
import threading
import time
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from types import SimpleNamespace

from tests.athletes.importing.test_many_writers import Phone, entry

STAFF, EVERY = 20, 0.5
Seen = list[tuple[float, float]]


def until_told() -> Callable[[], bool]:
    """Whether whoever started this process still wants it to work: its input ends when it is to end."""
    done = threading.Event()
    threading.Thread(target=lambda: (sys.stdin.read(), done.set()), daemon=True).start()
    return lambda: not done.is_set()


def staff(port: int, who: dict[str, object]) -> dict[str, object]:
    """Every phone logs a set each half second; when each request began, how long it took, what was not stored."""
    on, waits, bad = until_told(), [], []
    server = SimpleNamespace(port=port)

    def work(n: int) -> None:
        phone, count = Phone(server, who, f"staff{n}"), 0
        while on():
            count += 1
            athlete = who["lifters"][(n + count) % len(who["lifters"])]
            began = time.monotonic()
            status, text = phone.post([entry(athlete, 60 + n, datetime.now(UTC))])
            waits.append((began, time.monotonic() - began))
            if status != 200 or json.loads(text)["done"][0]["status"] not in ("stored", "conflict"):
                bad.append(f"{status} {text[:120]}")
            time.sleep(max(0.0, EVERY - (time.monotonic() - began)))

    threads = [threading.Thread(target=work, args=(n,)) for n in range(STAFF)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return {"waits": waits, "bad": bad}


def probe(database: str) -> dict[str, object]:
    """From when to when nobody else could have written."""
    on, spans, since = until_told(), [], 0.0
    with closing(sqlite3.connect(database, isolation_level=None, timeout=0)) as link:
        while on():
            try:
                link.execute("BEGIN IMMEDIATE")
                link.execute("COMMIT")
            except sqlite3.OperationalError:
                since = since or time.monotonic()
            else:
                if since:
                    spans.append((since, time.monotonic() - since))
                since = 0.0
            time.sleep(0.002)
    return {"spans": spans}


if __name__ == "__main__":
    if sys.argv[1] == "staff":
        found = staff(int(sys.argv[2]), json.loads(Path(sys.argv[3]).read_text()))
    else:
        found = probe(sys.argv[2])
    print(json.dumps(found))
