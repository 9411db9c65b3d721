"""Taking in and undoing: one athlete a transaction, resumable, compared with what was logged meanwhile."""

from typing import Any

import pytest
from django.db import connection
from django.db.models import Count
from django.urls import reverse

from athletes.importing.moving import taking
from athletes.importing.moving.taking import take_in
from athletes.importing.moving.undoing import ASK, KEEP, REMOVE, undo
from athletes.importing.tasks import advance, revive_all
from athletes.models import AuditEntry, ImportBatch, LiftSet, Revision
from tests.athletes.importing.import_steps import read_in

HEAD = "date,lifter,lift,weight,unit,sets,reps,rpe,result\n"
ROWS = HEAD + "".join(f"2026-03-{d:02},{who},sumo,{100 + d},kg,2,3,,ok\n" for d in range(1, 11) for who in
                      ("Ada Fell", "Petra Moss"))  # fmt: skip


@pytest.fixture
def planned(cast) -> ImportBatch:
    """An import of 20 sets each of Ada and Petra whose parts are planned, none of them taken."""
    batch = read_in(cast, ROWS)
    assert take_in(batch) == ""
    batch = advance(batch.pk, 0)
    assert (batch.options["phase"], len(batch.options["parts"]), LiftSet.objects.count()) == ("take", 2, 0)
    return batch


def log(athlete, **more) -> LiftSet:
    given = {"day": "2026-03-04", "style": "sumo", "load_typed": "104", "load_unit": "kg", "load_kg": 104}
    return LiftSet.objects.create(athlete=athlete, reps_made=3, reps_tried=3, **given | more)


def by_athlete(batch: ImportBatch) -> dict[str, int]:
    return dict(batch.sets.order_by().values_list("athlete__name").annotate(Count("pk")))


def test_each_athlete_comes_in_by_a_commit_of_their_own_and_the_cursor_moves_with_it(planned):
    batch = advance(planned.pk, 0)
    assert by_athlete(batch) == {"Ada Fell": 20}
    assert (batch.status, batch.options["taken"], batch.options["sets"]) == ("moving", 1, 20)
    batch = advance(batch.pk, 30)
    assert by_athlete(batch) == {"Ada Fell": 20, "Petra Moss": 20}
    entry = AuditEntry.objects.get(action="import taken in")
    assert (batch.status, entry.after) == ("done", {"sets": 40})


def test_a_step_that_another_one_was_faster_than_writes_nothing(planned):
    stale = ImportBatch.objects.get(pk=planned.pk)
    advance(planned.pk, 0)
    taking.take(stale, 0)
    assert LiftSet.objects.count() == 20


def test_a_part_that_breaks_leaves_nothing_of_its_athlete_and_the_import_goes_on(planned, monkeypatch):
    def broken(*args: Any) -> None:
        raise RuntimeError("the machine stopped")

    monkeypatch.setattr(taking, "insert_measures", broken)
    with pytest.raises(RuntimeError):
        advance(planned.pk, 0)
    assert LiftSet.objects.count() == 0
    monkeypatch.undo()
    ImportBatch.objects.update(stepped="2026-01-01T00:00Z")
    assert revive_all() == 1  # the tests' backend runs the task at once
    planned.refresh_from_db()
    assert (planned.status, LiftSet.objects.count()) == ("done", 40)


def test_an_import_whose_step_began_just_now_is_left_alone_but_not_by_a_starting_worker(planned):
    assert revive_all() == 1
    planned.refresh_from_db()
    assert planned.status == "moving"
    revive_all(at_start=True)
    planned.refresh_from_db()
    assert planned.status == "done"


@pytest.mark.parametrize("taken", [0, 1])
def test_the_same_set_logged_meanwhile_takes_everything_out_again_and_leads_to_the_preview(planned, cast, taken):
    for _ in range(taken):
        advance(planned.pk, 0)
    log(cast.athletes["petra"])
    batch = advance(planned.pk, 30)
    assert (batch.status, LiftSet.objects.count()) == ("ready", 1)
    assert batch.reason == taking.MEANWHILE
    assert batch.rows.get(number=9).status == "guess"
    take_in(batch)
    assert advance(batch.pk, 30).status == "done"
    assert LiftSet.objects.count() == 40


def test_other_sets_logged_meanwhile_do_not_hold_it_up(planned, cast):
    log(cast.athletes["ada"], day="2026-11-25")
    log(cast.athletes["ada"], load_kg=107)
    assert advance(planned.pk, 30).status == "done"
    assert LiftSet.objects.count() == 42


def test_a_long_log_is_split_by_year_and_a_full_year_by_month(cast, monkeypatch):
    monkeypatch.setattr(taking, "PART", 4)
    rows = "".join(f"{y}-{m:02}-05,Ada Fell,sumo,{100 + m},kg,1,3,,ok\n" for y, n in ((2024, 4), (2025, 3))
                   for m in range(1, n + 1))  # fmt: skip
    athletes = {cast.athletes["ada"].pk}
    batch = read_in(cast, HEAD + rows)
    assert [days for _, days in taking.parts_of(batch, athletes)] == ["2024", "2025"]
    monkeypatch.setattr(taking, "PART", 3)
    months = [days for _, days in taking.parts_of(batch, athletes)]
    assert months == ["2024-01", "2024-02", "2024-03", "2024-04", "2025-01", "2025-02", "2025-03"]
    take_in(batch)
    assert advance(batch.pk, 30).status == "done"
    assert LiftSet.objects.count() == 7
    assert list(LiftSet.objects.order_by("order").values_list("day__month", flat=True)) == [1, 2, 3, 4, 1, 2, 3]


def test_the_triggers_stay_laid_and_every_set_moves_its_athletes_revision(planned, cast):
    before = dict(Revision.objects.values_list("athlete__name", "number"))
    advance(planned.pk, 30)
    after = dict(Revision.objects.values_list("athlete__name", "number"))
    assert after["Ada Fell"] > before["Ada Fell"]
    assert after["Ivo Reed"] == before["Ivo Reed"]
    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            assert cursor.execute("PRAGMA foreign_key_check").fetchall() == []


def test_undo_takes_out_athlete_by_athlete(planned, cast):
    batch = advance(planned.pk, 30)
    assert undo(batch, cast.stan) == ""
    batch = advance(batch.pk, 0)
    assert (batch.status, by_athlete(batch)) == ("undoing", {"Petra Moss": 20})
    batch = advance(batch.pk, 30)
    assert (batch.status, LiftSet.objects.count()) == ("undone", 0)
    assert AuditEntry.objects.get(action="import undone").before == {"sets": 40}
    assert undo(batch, cast.stan) == "Nothing to undo."


@pytest.mark.parametrize(("answer", "left"), [(KEEP, 1), (REMOVE, 0)])
def test_a_set_corrected_since_is_listed_and_asked_about(planned, cast, signed_in, answer, left):
    batch = advance(planned.pk, 30)
    one = batch.sets.filter(athlete=cast.athletes["ada"]).first()
    one.load_kg, one.load_typed = 111.5, "111.5"
    one.save()
    page = signed_in("stan").get(reverse("import", args=[batch.pk])).content.decode()
    assert "1 set of this import was corrected since" in page
    assert "111.5 kg x 3" in page
    address = reverse("import-undo", args=[batch.pk])
    assert ASK in signed_in("stan").post(address, follow=True).content.decode()
    assert LiftSet.objects.count() == 40
    signed_in("stan").post(address, {"corrected": answer})
    assert list(LiftSet.objects.values_list("load_typed", "batch")) == [("111.5", None)] * left
