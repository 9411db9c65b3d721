"""The move and the undo of an import: all or nothing, little under the lock, and nothing left switched off after it."""

from typing import Any

import pytest
from django.db import IntegrityError, connection, transaction

from athletes.importing import take_in as mover
from athletes.importing.short_lock import checked_before, one_bump, short_lock
from athletes.importing.steps import advance
from athletes.models import AuditEntry, LiftSet, Revision, StagedSet
from athletes.models.bulk import Bulk
from tests.athletes.importing.import_steps import read_in

HEAD = "date,lifter,lift,weight,unit,sets,reps,rpe,result\n"
ROWS = HEAD + "".join(f"2026-03-{d:02},{who},sumo,{100 + d},kg,2,3,,ok\n" for d in range(1, 11) for who in
                      ("Ada Fell", "Petra Moss"))  # fmt: skip
sqlite_only = pytest.mark.skipif(connection.vendor != "sqlite", reason="how SQLite locks")


@pytest.fixture
def laid_out(cast):
    """An import whose sets lie beside the log, the move being next."""
    batch = read_in(cast, ROWS)
    assert mover.take_in(batch) == ""
    while (batch := advance(batch.pk, 0)).options["phase"] != "move":
        pass
    assert (LiftSet.objects.count(), StagedSet.objects.count()) == (0, 40)
    return batch


def numbers() -> dict[str, int]:
    return dict(Revision.objects.values_list("athlete__name", "number"))


def switches() -> list[int]:
    with connection.cursor() as cursor:
        return [
            cursor.execute(f"PRAGMA {name}").fetchone()[0]
            for name in ("foreign_keys", "ignore_check_constraints", "cache_size")
        ]


def triggers() -> set[str]:
    with connection.cursor() as cursor:
        return {row[0] for row in cursor.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall()}


def log(athlete, **more) -> LiftSet:
    given = {"day": "2026-03-04", "style": "sumo", "load_typed": "104", "load_unit": "kg", "load_kg": 104}
    return LiftSet.objects.create(athlete=athlete, reps_made=3, reps_tried=3, **given | more)


def test_the_move_and_the_undo_each_move_a_revision_once(laid_out, cast):
    before = numbers()
    batch = advance(laid_out.pk, 30)
    assert (batch.status, LiftSet.objects.filter(batch=batch).count(), StagedSet.objects.count()) == ("done", 40, 0)
    moved = numbers()
    assert all(moved[name] == before[name] + 1 for name in ("Ada Fell", "Petra Moss"))
    assert moved["Ivo Reed"] == before["Ivo Reed"]
    assert mover.undo(batch, cast.stan).sets == 40
    assert all(numbers()[name] == moved[name] + 1 for name in ("Ada Fell", "Petra Moss"))
    assert not LiftSet.objects.exists()
    assert mover.undo(batch, cast.stan).sets == 0


def test_a_set_logged_while_they_were_laid_out_leads_back_to_the_preview(laid_out, cast):
    log(cast.athletes["ada"])
    batch = advance(laid_out.pk, 30)
    assert (batch.status, LiftSet.objects.count()) == ("ready", 1)
    assert "look at the lines again" in batch.reason
    assert batch.rows.get(number=8).status == "guess"


def test_other_sets_logged_meanwhile_do_not_hold_it_up(laid_out, cast):
    log(cast.athletes["ada"], day="2026-11-25")
    log(cast.athletes["ada"], load_kg=107)
    assert advance(laid_out.pk, 30).status == "done"
    assert LiftSet.objects.count() == 42


def test_a_layout_that_is_not_whole_any_more_is_not_moved(laid_out):
    StagedSet.objects.first().delete()
    batch = advance(laid_out.pk, 0)
    assert (batch.status, LiftSet.objects.count()) == ("staging", 0)


def test_a_layout_of_an_older_version_is_looked_at_again(laid_out):
    del laid_out.options["athletes"], laid_out.options["days"]
    laid_out.save()
    batch = advance(laid_out.pk, 0)
    assert (batch.status, LiftSet.objects.count()) == ("staging", 0)


def test_a_move_that_breaks_leaves_everything_as_it_was(laid_out, monkeypatch):
    before = numbers()

    def broken(*args: Any, **more: object) -> None:
        raise RuntimeError("the machine stopped")

    monkeypatch.setattr(mover, "record", broken)
    with pytest.raises(RuntimeError):
        advance(laid_out.pk, 0)
    monkeypatch.undo()
    assert (LiftSet.objects.count(), StagedSet.objects.count(), numbers()) == (0, 40, before)
    assert not AuditEntry.objects.filter(action="import taken in").exists()
    assert advance(laid_out.pk, 30).status == "done"


@pytest.mark.django_db(transaction=True)
@sqlite_only
def test_what_is_switched_off_for_the_move_is_on_again_after_it_and_after_a_break(cast):
    was, there = switches(), triggers()
    assert was[:2] == [1, 0]
    batch = read_in(cast, ROWS)
    mover.take_in(batch)
    batch = advance(batch.pk, 30)
    mover.undo(batch, cast.stan)
    assert (switches(), triggers()) == (was, there)
    with pytest.raises(RuntimeError), short_lock(), one_bump("insert", [], LiftSet), checked_before():
        assert switches()[:2] == [0, 1]
        assert "revision_athletes_liftset_insert" not in triggers()
        raise RuntimeError
    assert (switches(), triggers()) == (was, there)


@pytest.mark.django_db(transaction=True)
@sqlite_only
def test_no_reference_of_a_moved_set_hangs_in_the_air(cast):
    batch = read_in(cast, ROWS)
    mover.take_in(batch)
    assert advance(batch.pk, 30).status == "done"
    with connection.cursor() as cursor:
        assert cursor.execute("PRAGMA foreign_key_check").fetchall() == []
        assert cursor.execute("PRAGMA integrity_check").fetchall() == [("ok",)]


def constraints(model) -> set[str]:
    """What the database checks of every row: conditions, and columns that point to another table."""
    found = {str(c.condition) for c in model._meta.constraints}
    return found | {f"{f.name} -> {f.related_model.__name__}" for f in model._meta.concrete_fields if f.is_relation}


def test_the_layout_is_held_to_everything_the_log_is_held_to():
    assert constraints(LiftSet) - constraints(StagedSet) == {"trial -> Trial"}  # no import names a trial
    laid, logged = ({f.name: f for f in m._meta.concrete_fields} for m in (StagedSet, LiftSet))
    assert laid.keys() <= logged.keys()
    assert all(laid[name].db_type(connection) == logged[name].db_type(connection) for name in laid)
    assert [name for name in laid if logged[name].null < laid[name].null] == []


@pytest.mark.parametrize("wrong", [{"load_kg": 701.0}, {"reps_made": 4}, {"result": "perhaps"}])
def test_the_layout_refuses_what_the_log_refuses(laid_out, cast, wrong):
    table = Bulk(StagedSet)
    moment = laid_out.created
    good = {
        "athlete": cast.athletes["ada"].pk, "batch": laid_out.pk, "uid": "018f0000000070008000000000000001",
        "day": "2026-03-04", "load_typed": "104", "load_unit": "kg", "load_kg": 104.0, "reps_made": 3,
        "reps_tried": 3, "created": moment, "changed": moment,
    }  # fmt: skip
    with transaction.atomic():
        table.insert(table.ready([good], {}))
    with pytest.raises(IntegrityError), transaction.atomic():
        table.insert(table.ready([good | wrong], {}))
