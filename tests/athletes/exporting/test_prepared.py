"""Files the worker writes: whole or absent, for one person, taken up again after a kill, gone after two days."""

import csv
import io
from datetime import timedelta
from uuid import uuid4

import pytest
from django.core.files.storage import FileSystemStorage, default_storage
from django.urls import reverse
from django.utils import timezone

from athletes.exporting import prepared
from athletes.exporting.prepared import ask_for, revive_files, write_file
from athletes.models import FileKind, FileState, Membership, PreparedFile
from athletes.privacy.erasure import erase_account, erase_athlete
from athletes.privacy.retention import prune
from tests.athletes.exporting.copies import log, squad_table, table_of


@pytest.fixture
def waiting(settings, monkeypatch):
    """Tasks are only queued, as when no worker runs."""
    queued: list[int] = []
    monkeypatch.setattr(prepared, "write_file", type("Task", (), {"enqueue": staticmethod(queued.append)}))
    return queued


def ask(cast, kind=FileKind.ATHLETE_SETS, athlete="ada"):
    return ask_for(kind, cast.cato, cast.quarry, athlete and cast.athletes[athlete])


def names() -> list[str]:
    return default_storage.listdir("exports")[1] if default_storage.exists("exports") else []


def test_a_file_that_waits_says_so_and_is_there_once_the_worker_has_written_it(signed_in, cast, full_log, waiting):
    cato = signed_in("cato")
    page = cato.post(reverse("export-athlete", args=[full_log.pk]), {"kind": "athlete-sets"}, follow=True)
    assert b"waiting for the worker" in page.content and b"http-equiv" in page.content
    row = PreparedFile.objects.get()
    assert cato.get(reverse("take-file", args=[row.uid])).status_code == 404
    write_file.func(row.pk)
    page = cato.get(reverse("prepared-file", args=[row.uid]))
    assert b"is ready" in page.content and b"http-equiv" not in page.content
    row.refresh_from_db()
    taken = b"".join(cato.get(reverse("take-file", args=[row.uid])).streaming_content)
    assert len(taken) == row.size
    assert len(list(csv.reader(io.StringIO(taken.decode())))) == full_log.sets.count() + 1


def test_asked_for_twice_while_it_is_on_its_way_it_is_the_same_file(cast, full_log, waiting):
    assert ask(cast).pk == ask(cast).pk != ask(cast, FileKind.ATHLETE_COPY).pk
    assert len(waiting) == 2


def test_of_two_workers_one_writes(cast, full_log, waiting, monkeypatch):
    row = ask(cast)
    wrote = []
    real = prepared.WRITERS[FileKind.ATHLETE_SETS]

    def writes(one, beat):
        wrote.append(one.pk)
        write_file.func(one.pk)  # the second worker, meanwhile
        return real(one, beat)

    monkeypatch.setitem(prepared.WRITERS, FileKind.ATHLETE_SETS, writes)
    write_file.func(row.pk)
    assert wrote == [row.pk]
    assert PreparedFile.objects.get().state == FileState.READY and len(names()) == 1


class Killed(BaseException):
    """The worker is gone in the middle."""


def test_a_worker_that_is_killed_leaves_nothing_and_the_next_one_finishes(cast, full_log, waiting, monkeypatch):
    row = ask(cast)

    def killed(*args):
        raise Killed

    monkeypatch.setattr(prepared, "_keep", killed)
    with pytest.raises(Killed):
        write_file.func(row.pk)
    monkeypatch.undo()
    row.refresh_from_db()
    assert (row.state, row.file.name, names()) == (FileState.WORKING, "", [])
    assert revive_files() == 0  # it may still be at work
    PreparedFile.objects.update(touched=timezone.now() - timedelta(seconds=61))
    assert revive_files() == 1
    row.refresh_from_db()
    assert row.state == FileState.READY and row.tries == 2  # the queue of the tests runs at once


def test_after_three_tries_it_is_given_up_and_says_so(signed_in, cast, full_log, waiting):
    row = ask(cast)
    PreparedFile.objects.update(state=FileState.WORKING, tries=3)
    assert revive_files(at_start=True) == 0
    page = signed_in("cato").get(reverse("prepared-file", args=[row.uid])).content
    assert b"was not written" in page and b"Given up after 3 tries" in page and b"Ask for it again" in page


def test_a_full_disk_is_told_and_nothing_is_left(signed_in, cast, full_log, waiting, monkeypatch):
    row = ask(cast)

    def full(*args, **kwargs):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(FileSystemStorage, "_save", full)
    write_file.func(row.pk)
    row.refresh_from_db()
    assert row.state == FileState.FAILED and "No space left" in row.reason
    assert names() == []


def test_a_file_of_somebody_who_was_erased_meanwhile_is_not_kept(cast, full_log, waiting, monkeypatch):
    row = ask(cast)
    real = prepared._write_table

    def erased(*args):
        written = real(*args)
        PreparedFile.objects.all().delete()
        return written

    monkeypatch.setattr(prepared, "_write_table", erased)
    write_file.func(row.pk)
    assert names() == [] and not PreparedFile.objects.exists()


def test_only_who_asked_may_take_it_and_only_while_they_may_see_it(signed_in, cast, full_log):
    squad_table(signed_in("cato"))
    row = PreparedFile.objects.get()
    for who in ("ona", "stan", "bea", "olga"):
        for name in ("prepared-file", "take-file"):
            assert signed_in(who).get(reverse(name, args=[row.uid])).status_code == 404
    Membership.objects.filter(user=cast.cato).update(role="staff")
    assert signed_in("cato").get(reverse("take-file", args=[row.uid])).status_code == 403
    Membership.objects.filter(user=cast.cato).delete()
    assert signed_in("cato").get(reverse("take-file", args=[row.uid])).status_code == 404
    assert signed_in("cato").get(reverse("take-file", args=[uuid4()])).status_code == 404


@pytest.mark.django_db(transaction=True)
def test_erasure_takes_every_file_that_holds_the_athlete_or_was_asked_for_by_the_account(signed_in, cast):
    log(cast.athletes["ada"])
    table_of(signed_in("cato"), cast.athletes["ada"])
    squad_table(signed_in("ona"))
    table_of(signed_in("bea"), cast.athletes["petra"])
    assert len(names()) == 3
    erase_athlete(cast.athletes["ada"])
    assert [row.asked_by for row in PreparedFile.objects.all()] == [cast.bea] and len(names()) == 1
    erase_account(cast.bea)
    assert names() == []


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize(("hours", "left"), [(47, 1), (49, 0)])
def test_a_file_is_kept_for_two_days(signed_in, cast, hours, left):
    log(cast.athletes["ada"])
    table_of(signed_in("cato"), cast.athletes["ada"])
    PreparedFile.objects.update(created=timezone.now() - timedelta(hours=hours))
    prune()
    assert PreparedFile.objects.count() == len(names()) == left
