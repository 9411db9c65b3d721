"""Run by a test in a process of its own: takes a log of 3,000 lines in and says where it is, so that it can "
"be killed."""

import sys
import time

import django

django.setup()

from django.core.files.uploadedfile import SimpleUploadedFile  # noqa: E402
from django.core.management import call_command  # noqa: E402

from athletes.models import Athlete, Club, ImportBatch, LiftSet, StagedSet  # noqa: E402
from athletes.transfer import layout, move  # noqa: E402
from athletes.transfer.staging.steps import advance  # noqa: E402
from athletes.transfer.staging.upload import begin  # noqa: E402

LINES = 3_000


def pause(said: str) -> None:
    print(f"now: {said}", flush=True)
    time.sleep(30)


def interrupted(moment: str) -> None:
    """Stop at the moment asked for: between two commits of the layout, before the move, or inside its transaction."""
    insert, lay = move._insert_all, layout.LAID_OUT.insert

    def slow_insert(batch: ImportBatch) -> None:
        if moment == "moving":
            pause(moment)
        insert(batch)
        if moment == "after the insert":
            pause(moment)

    def slow_lay(staged: list[dict[str, object]]) -> None:
        if moment == "laid out" and StagedSet.objects.count() >= 1_000:
            pause(moment)
        lay(staged)

    move._insert_all, layout.LAID_OUT.insert = slow_insert, slow_lay


def begin_import(moment: str) -> None:
    call_command("migrate", verbosity=0)
    club = Club.objects.create(name="Quarry Hall")
    Athlete.objects.create(club=club, name="Ada Fell", sex="f")
    rows = "".join(f"2026-03-{1 + i % 28:02},Ada Fell,sumo,{100 + i % 100},kg,1,{1 + i % 5},,\n" for i in range(LINES))
    text = "date,lifter,lift,weight,unit,sets,reps,rpe,result\n" + rows
    batch = begin(club, None, SimpleUploadedFile("log.csv", text.encode()), 10**8)
    batch = advance(batch.pk, 60)
    move.take_in(batch)
    interrupted(moment)
    advance(batch.pk, 60)


if __name__ == "__main__":
    what = sys.argv[1]
    if what == "begin":
        begin_import(sys.argv[2])
    elif what == "count":
        print(LiftSet.objects.count())
    else:
        pk = ImportBatch.objects.get().pk
        while True:
            done = advance(pk, 60)
            if not done.options.get("phase"):
                break
        print(LiftSet.objects.count(), done.status, StagedSet.objects.count())
