"""Erasure: every copy goes, a restored backup brings nobody back, the list of erasures names nobody."""

import json
import os
import subprocess
import sys
from datetime import date
from io import BytesIO, StringIO
from pathlib import Path
from uuid import uuid4

import pytest
from axes.models import AccessAttempt
from django.apps import apps
from django.core import serializers
from django.core.files.base import ContentFile
from django.core.management import call_command
from django.test import Client
from PIL import Image

from analysis.models import StoredProfile
from athletes.access import audit
from athletes.access.audit import note_look
from athletes.models import Athlete, ImportAnswer, ImportBatch, ImportRow, Membership, User
from athletes.pictures import services as pictures
from athletes.privacy import erasure, ledger
from athletes.privacy.ledger import append_erasure, erased_uids
from athletes.web.checks import nobody_erased_is_back
from tests.addresses.world import make_world
from tests.cast import PASSWORD


@pytest.fixture
def traces(cast):
    """Ada with one of everything that could still name her."""
    make_world(cast)
    ada = cast.athletes["ada"]
    jpeg = BytesIO()
    Image.new("RGB", (20, 20)).save(jpeg, "JPEG")
    picture = pictures.add_picture(ada, jpeg.getvalue(), cast.ada, taken_on=date(2026, 11, 20))
    batch = ImportBatch.objects.create(club=cast.quarry, file_name="ada-fell-2024.csv")
    batch.file.save("old.csv", ContentFile(b"Ada Fell,100x5"), save=True)
    for number, raw in enumerate([["Ada  FELL", "100x5"], ["Petra Moss", "90x5"], ["A. Fjell", "110x3"]], 1):
        ImportRow.objects.create(batch=batch, number=number, raw=raw, status="ok")
    ImportAnswer.objects.create(club=cast.quarry, question="name", subject="A. Fjell", answer=ada.pk)
    StoredProfile.objects.create(athlete=ada, kind="leverages", fingerprint="f", as_of=date(2026, 11, 20), payload={})
    note_look(cast.stan, ada, "summary")
    audit.record(cast.cato, "corrected", ada, {"name": "Ada Fel"}, {"name": "Ada Fell"})
    audit.record(cast.ona, "imported", batch, after={"who": ["Ada Fell"]})
    AccessAttempt.objects.create(username=cast.ada.email, failures_since_start=1)
    return Path(picture.file.path), Path(batch.file.path)


def everything_as_text() -> str:
    """Every row of both apps and of the throttle, as text."""
    models = [m for label in ("athletes", "analysis", "axes") for m in apps.get_app_config(label).get_models()]
    return serializers.serialize("json", [row for model in models for row in model._base_manager.all()]).casefold()


NAMES = ("ada fell", "ada  fell", "ada-fell", "a. fjell", "ada@example.test")


def test_before_the_erasure_every_trace_is_found(traces):
    text = everything_as_text()
    assert [name for name in NAMES if name not in text] == []


@pytest.mark.django_db(transaction=True)
def test_erasing_takes_every_copy_the_club_holds(cast, traces):
    uid = cast.athletes["ada"].uid
    erasure.erase_athlete(cast.athletes["ada"])
    text = everything_as_text()
    assert [name for name in NAMES if name in text] == []
    assert str(uid) not in text
    assert [path for path in traces if path.exists()] == []
    assert not User.objects.filter(username="ada").exists()
    assert "petra moss" in text
    batch = ImportBatch.objects.exclude(file_name="old-log.csv").get()
    assert [row.raw for row in batch.rows.all()] == [[], ["Petra Moss", "90x5"], []]
    assert batch.rows.count() == 3


def test_the_list_holds_random_numbers_and_days_only(cast, traces, settings):
    erasure.erase_athlete(cast.athletes["ada"])
    lines = [json.loads(line) for line in Path(settings.ERASURE_LEDGER).read_text().splitlines()]
    assert len(lines) == 2  # the athlete and the account
    assert all(line.keys() == {"uid", "on"} for line in lines)
    assert Path(settings.ERASURE_LEDGER).stat().st_mode & 0o077 == 0


def test_a_restored_backup_brings_nobody_back(cast):
    ada, user = cast.athletes["ada"], cast.ada
    ada_uid, user_uid = ada.uid, user.uid
    backup = serializers.serialize("json", [user, ada, Membership.objects.get(user=user)])
    erasure.erase_athlete(ada)
    for row in serializers.deserialize("json", backup):
        row.save()
    assert Athlete.objects.filter(uid=ada_uid).exists()
    out = StringIO()
    call_command("apply_erasures", stdout=out)
    assert "Erased again" in out.getvalue()
    assert not Athlete.objects.filter(uid=ada_uid).exists()
    assert not User.objects.filter(uid=user_uid).exists()
    call_command("apply_erasures", stdout=StringIO())


def test_a_crash_after_the_list_is_mended_by_the_next_start(cast):
    append_erasure(cast.athletes["petra"].uid)
    assert erasure.apply_erasures() == 1
    assert not Athlete.objects.filter(name="Petra Moss").exists()


@pytest.mark.parametrize("torn", ["not json", '{"uid": "123e45', "[]", '{"uid": 7}', '{"on": "2026-11-27"}', "\udcff"])
def test_a_torn_line_is_skipped_with_a_warning_and_the_others_hold(settings, caplog, torn):
    path = Path(settings.ERASURE_LEDGER)
    first, second = uuid4(), uuid4()
    append_erasure(first)
    with path.open("a", errors="surrogateescape") as file:
        file.write(torn)
    append_erasure(second)  # begins a line of its own behind the torn one
    assert erased_uids() == [first, second]
    assert "Line 2 of the ledger of erasures" in caplog.text


def test_an_erasure_is_refused_when_its_line_cannot_be_written_whole(cast, monkeypatch):
    monkeypatch.setattr(ledger.os, "write", lambda handle, data: 0)
    with pytest.raises(OSError, match="cannot be written"):
        erasure.erase_athlete(cast.athletes["petra"])
    assert Athlete.objects.filter(name="Petra Moss").exists()


def test_a_line_written_in_pieces_is_whole(settings, monkeypatch):
    write = os.write
    monkeypatch.setattr(ledger.os, "write", lambda handle, data: write(handle, data[:5]))
    uid = uuid4()
    append_erasure(uid)
    monkeypatch.undo()
    assert erased_uids() == [uid]


def test_a_coach_who_lifts_keeps_the_account(cast):
    ada = cast.athletes["ada"]
    ada.user = cast.cato
    ada.save()
    erasure.erase_athlete(ada)
    assert User.objects.filter(pk=cast.cato.pk).exists()
    assert Membership.objects.filter(user=cast.cato).exists()


def test_the_athlete_erases_themselves_by_name_and_password(cast, signed_in):
    client, pk = signed_in("ada"), cast.athletes["ada"].pk
    page = client.post(f"/athletes/{pk}/erase/", {"name": "Somebody", "password": "wrong"}).content.decode()
    assert "not the name on this page" in page
    assert "not your current password" in page
    assert Athlete.objects.filter(pk=pk).exists()
    answer = client.post(f"/athletes/{pk}/erase/", {"name": "ada fell", "password": PASSWORD}, follow=True)
    assert "Everything is erased" in answer.content.decode()
    assert not Athlete.objects.filter(pk=pk).exists()
    assert client.get("/account/").status_code == 302


def test_closing_an_account_keeps_the_log_with_the_club(cast, signed_in):
    client = signed_in("ada")
    assert "current password" in client.post("/account/close/", {"password": "wrong"}).content.decode()
    client.post("/account/close/", {"password": PASSWORD})
    assert not User.objects.filter(username="ada").exists()
    cast.athletes["ada"].refresh_from_db()
    assert cast.athletes["ada"].user is None
    assert Client().post("/sign-in/", {"username": "ada@example.test", "password": PASSWORD}).status_code == 200


def test_the_last_owner_cannot_close_the_account(cast, signed_in, settings):
    page = signed_in("ona").post("/account/close/", {"password": PASSWORD}).content.decode()
    assert "at least one owner" in page
    assert User.objects.filter(username="ona").exists()
    assert not Path(settings.ERASURE_LEDGER).exists()


RESTORED = """
import django; django.setup()
from django.core.management import call_command
call_command("migrate", verbosity=0)
from athletes.models import Athlete, Club
from athletes.privacy.ledger import append_erasure
athlete = Athlete.objects.create(club=Club.objects.create(name="Quarry Hall"), name="Zebedee Quarrystone", sex="m")
append_erasure(athlete.uid)
import config.wsgi
print(Athlete.objects.count())
"""


def test_the_server_applies_the_list_before_its_first_answer(tmp_path):
    own = {"STANCEBOOK_VAR": str(tmp_path), "DJANGO_SETTINGS_MODULE": "config.settings", "DJANGO_DEBUG": "1"}
    here = {k: v for k, v in os.environ.items() if k not in ("DATABASE_URL", "STANCEBOOK_ERASURES")} | own
    root = Path(__file__).resolve().parents[3]
    done = subprocess.run(
        [sys.executable, "-c", RESTORED], check=True, env=here, cwd=root, capture_output=True, text=True
    )
    assert done.stdout.strip() == "0"


STORY = """
import django; django.setup()
from django.core.management import call_command
call_command("migrate", verbosity=0)
from athletes.models import Athlete, Club, LiftSet
from athletes.privacy.erasure import erase_athlete
club = Club.objects.create(name="Quarry Hall")
for name in ("Zebedee Quarrystone", "Petra Moss"):
    athlete = Athlete.objects.create(club=club, name=name, sex="m")
    for n in range(50):
        LiftSet.objects.create(
            athlete=athlete, day="2026-11-20", load_typed="100", load_unit="kg", load_kg=100, note=f"{name} {n}"
        )
erase_athlete(Athlete.objects.get(name="Zebedee Quarrystone"))
"""


def test_no_erased_name_stays_in_the_files_of_sqlite(tmp_path):
    """SQLite keeps deleted text in free pages and in its log unless told to overwrite it."""
    here = os.environ | {
        "STANCEBOOK_VAR": str(tmp_path),
        "DJANGO_SETTINGS_MODULE": "config.settings",
        "DJANGO_DEBUG": "1",
    }
    here.pop("DATABASE_URL", None)
    root = Path(__file__).resolve().parents[3]
    subprocess.run([sys.executable, "-c", STORY], check=True, env=here, cwd=root)
    kept = b"".join(path.read_bytes() for path in tmp_path.glob("*.sqlite3*"))
    assert b"Petra Moss 49" in kept
    assert b"Zebedee" not in kept


def test_the_check_finds_who_came_back(cast):
    assert nobody_erased_is_back(databases=["default"]) == []
    append_erasure(cast.athletes["petra"].uid)
    assert [m.id for m in nobody_erased_is_back(databases=["default"])] == ["athletes.E002"]
