"""A workbook is opened beside the page: how far it is, killed, one at a time, another sheet, gone with its upload."""

import os
import time
from pathlib import Path

from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from athletes.importing import opening
from athletes.importing.change import change_make, drop
from athletes.importing.files.tables import job_folder, opened
from athletes.importing.files.upload import begin
from athletes.importing.tasks import advance
from athletes.models import ImportBatch
from athletes.privacy.retention import prune
from tests.athletes.importing.import_steps import LIMIT, read_in, sets_in
from tests.athletes.importing.workbooks import ADA, HEAD, book, waiting


def test_the_page_says_how_far_the_opening_is_and_may_be_left(signed_in, cast):
    batch = waiting(cast, book([HEAD, *[ADA] * 3_000]))
    address = reverse("import-step", args=[batch.pk])
    batch = advance(batch.pk, 0)
    page = signed_in("stan").get(reverse("import", args=[batch.pk])).content.decode()
    assert "Opening the workbook" in page
    assert batch.status == "staging"
    until = time.monotonic() + 20
    while not (job_folder(batch) / "outcome.json").exists() and time.monotonic() < until:
        time.sleep(0.02)
    ImportBatch.objects.filter(pk=batch.pk).update(stepped=None)
    answer = signed_in("stan").post(address, headers={"accept": "application/json"}).json()
    assert answer["total"] == 3_000
    assert advance(batch.pk, 30).status == "ready"


def test_an_opener_that_was_killed_is_started_again_and_after_two_the_workbook_is_refused(cast, monkeypatch):
    batch = waiting(cast, book([HEAD, ADA]))
    dead: list[list[str]] = []
    start = opening._start
    monkeypatch.setattr(opening, "_start", dead.append)
    batch = advance(batch.pk, 0)
    monkeypatch.setattr(opening, "_start", start)
    assert (batch.status, len(dead)) == ("staging", 1)
    os.utime(job_folder(batch) / opening.AT, (0, 0))  # the dead one has been silent for long
    assert advance(batch.pk, 60).status == "ready"
    again = waiting(cast, book([HEAD, ADA]))
    monkeypatch.setattr(opening, "_start", dead.append)
    monkeypatch.setattr(opening, "SILENT", 0.2)
    again = advance(again.pk, 30)
    assert (again.status, again.reason, len(dead)) == ("refused", opening.TWICE, 3)


def test_one_opener_works_at_a_time(cast, monkeypatch):
    batch = waiting(cast, book([HEAD, ADA]))
    started = []
    monkeypatch.setattr(opening, "_start", started.append)
    advance(batch.pk, 0)
    advance(batch.pk, 0.2)
    assert len(started) == 1


def test_another_sheet_is_opened_and_one_without_a_table_changes_nothing(cast):
    content = book([HEAD, ADA], Old=[HEAD, [*ADA[:3], 150, "kg", 1]], Empty=[])
    batch = read_in(cast, content, "log.xlsx")
    asked = {"decimal": "", "date_order": ""}
    change_make(batch, asked | {"sheet": "Empty"})
    batch = advance(batch.pk, 30)
    assert (batch.status, batch.options["sheet"], len(sets_in(batch))) == ("ready", "Sheet", 1)
    assert batch.reason.startswith("Not changed.")
    change_make(batch, asked | {"sheet": "Old"})
    batch = advance(batch.pk, 30)
    assert [s["load_kg"] for s in sets_in(batch)] == [150.0]
    assert (batch.options["sheet"], batch.reason) == ("Old", "")
    assert len(list(opened(batch.file.name).iterdir())) == 1


def test_an_opened_table_goes_with_its_upload(cast, django_capture_on_commit_callbacks):
    first, second = read_in(cast, book([HEAD, ADA]), "log.xlsx"), waiting(cast, book([HEAD, ADA]))
    folders = [opened(batch.file.name) for batch in (first, second)]
    advance(second.pk, 0)
    assert all(folder.is_dir() for folder in folders)
    assert drop(second)
    assert not folders[1].exists()
    ImportBatch.objects.update(created="2026-01-01T00:00Z")
    with django_capture_on_commit_callbacks(execute=True):
        prune()
    assert not folders[0].exists()


def test_an_upload_that_is_not_kept_any_more_is_said_and_is_no_error(signed_in, cast):
    batches = [waiting(cast, book([HEAD, ADA])), read_in(cast, book([HEAD, ADA]), "log.xlsx")]
    for batch in batches:
        Path(batch.file.path).unlink()
    assert "not kept any more" in advance(batches[0].pk, 1).reason
    page = reverse("import-make", args=[batches[1].pk])
    asked = {"encoding": "utf-8", "separator": ";", "sheet": "Sheet", "decimal": ",", "date_order": ""}
    signed_in("stan").post(page, asked)
    erased = waiting(cast, book([HEAD, ADA]))
    ImportBatch.objects.filter(pk=erased.pk).update(file="")
    assert "not kept any more" in advance(erased.pk, 1).reason
    text = begin(cast.quarry, cast.stan, SimpleUploadedFile("log.csv", b"date,weight\n2026-03-04,180\n"), LIMIT)
    ImportBatch.objects.filter(pk=text.pk).update(file="", status="ready")
    said = signed_in("stan").post(reverse("import-make", args=[text.pk]), asked, follow=True).content.decode()
    assert "Not changed. The uploaded file is not kept any more" in said
