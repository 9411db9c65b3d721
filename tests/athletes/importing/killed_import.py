"""An import in a process of its own that says where it is, so that it can be killed there; see `killing.py`.

`begin LINES` takes a log of that many lines in from its upload, `lay-out SETS` builds at once what an import of that
many sets is like just before the move, `go-on` and `undo` do what their names say. `STOP_AT` names a moment at which
the process stands still.
"""

import os
import sys
import time
from collections.abc import Callable

import django

django.setup()

from django.core.files.uploadedfile import SimpleUploadedFile  # noqa: E402
from django.core.management import call_command  # noqa: E402
from django.db import connection, transaction  # noqa: E402

from athletes.importing import layout, steps  # noqa: E402
from athletes.importing import take_in as move  # noqa: E402
from athletes.importing.upload import begin  # noqa: E402
from athletes.models import Athlete, Club, ImportBatch, User  # noqa: E402

SECONDS = 1.0
MORE = """
WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < {more})
INSERT INTO athletes_stagedset ({columns}) SELECT {values} FROM athletes_stagedset CROSS JOIN n
"""


def say(moment: str, count: int = 0) -> None:
    print(f"now: {moment} {count}", flush=True)
    if moment == os.environ.get("STOP_AT"):
        time.sleep(60)


def listen() -> None:
    """Say where the import is: after each commit of lines or sets, before and after the INSERT of the move."""
    steps.LINES.insert = counted(steps.LINES.insert, "reading")
    layout.LAID_OUT.insert = counted(layout.LAID_OUT.insert, "laying out")
    insert = move._insert_all

    def around(batch: ImportBatch) -> None:
        say("moving")
        insert(batch)
        transaction.on_commit(lambda: say("moved"))
        say("inserted")

    move._insert_all = around


def counted(insert: Callable[[list], None], moment: str) -> Callable[[list], None]:
    done = [0]

    def told(ready: list) -> None:
        insert(ready)
        done[0] += len(ready)
        transaction.on_commit(lambda: say(moment, done[0]))

    return told


def begin_import(lines: int) -> ImportBatch:
    call_command("migrate", verbosity=0)
    club = Club.objects.create(name="Quarry Hall")
    User.objects.create(username="cato", email="cato@example.test")
    ada = Athlete.objects.create(club=club, name="Ada Fell", sex="f")
    ada.sets.create(day="2026-11-25", load_typed="100", load_unit="kg", load_kg=100)
    rows = "".join(
        f"20{10 + i % 16}-{1 + i % 12:02}-{1 + i % 28:02},Ada Fell,sumo,{100 + i % 100},kg,1,{1 + i % 5},,\n"
        for i in range(lines)
    )
    text = "date,lifter,lift,weight,unit,sets,reps,rpe,result\n" + rows
    return begin(club, None, SimpleUploadedFile("log.csv", text.encode()), 10**8)


def lay_out(sets: int) -> None:
    """One real set up to just before its move, then as many more like it as are missing."""
    batch = steps.advance(begin_import(1).pk, 60)
    move.take_in(batch)
    while (batch := steps.advance(batch.pk, 0)).options["phase"] != "move":
        pass
    columns = [connection.ops.quote_name(f.column) for f in layout.LAID_OUT.fields.values()]
    new = {'"uid"': "lower(hex(randomblob(16)))", '"order"': "40 * i"}
    values = ", ".join(new.get(column, column) for column in columns)
    with connection.cursor() as cursor:
        cursor.execute(MORE.format(more=sets - 1, columns=", ".join(columns), values=values))
    batch.options["sets"] = sets
    batch.save()


def go_on() -> None:
    """To the end of whatever is left, with the button pressed when the preview is there."""
    batch = ImportBatch.objects.get()
    while batch.status != ImportBatch.Status.DONE or batch.options["phase"]:
        if batch.status == ImportBatch.Status.READY:
            move.take_in(batch)
        batch = steps.advance(batch.pk, SECONDS)


def undo() -> None:
    say("undoing")
    move.undo(ImportBatch.objects.get(), User.objects.get())
    say("undone")
    steps.advance(ImportBatch.objects.get().pk, 60)


if __name__ == "__main__":
    listen()
    what, count = sys.argv[1], int(sys.argv[2]) if len(sys.argv) > 2 else 0
    if what == "begin":
        begin_import(count)
    if what == "lay-out":
        lay_out(count)
    if what in ("begin", "go-on"):
        go_on()
    if what == "undo":
        undo()
