"""A backup comes back whole into an empty place; a broken one is refused before anything changes."""

import io
import json
import tarfile
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from athletes.operations import archive, backup, databases
from athletes.operations.archive import BackupError, read_manifest
from tests.own_server import OwnServer, own_database

PICTURE = """
from datetime import date; from athletes.models import Athlete, User; from athletes.pictures.services import add_picture
ada = Athlete.objects.get(name="Ada Fell")
add_picture(ada, b"not really a jpeg", User.objects.get(email__startswith="cato"), taken_on=date(2026, 11, 20))
"""
ERASE_ONE = """(lambda one: (str(one.uid), __import__("athletes.privacy.erasure", fromlist=["x"]).erase_athlete(one)))(
    Athlete.objects.exclude(name="Ada Fell").order_by("pk")[0]
)[0]"""
COUNTS = "{m.__name__: m.objects.count() for m in (Athlete, LiftSet, Picture, AuditEntry, Membership)}"


@pytest.fixture(scope="module")
def place(tmp_path_factory, django_db_setup, django_db_blocker):
    """A server's data with a picture and an erased athlete, its backup, and an empty place for it."""
    from django.conf import settings

    here, there = tmp_path_factory.mktemp("here"), tmp_path_factory.mktemp("there")
    database = settings.DATABASES["default"]
    with own_database(here, database) as first, own_database(there, database) as second:
        old, new = OwnServer(here, first), OwnServer(there, second)
        old.seed()
        old.run("-c", "import django; django.setup()" + PICTURE)
        old.run("manage.py", "backup", str(here / "kept"))
        yield old, new, here, there


def made(folder: Path) -> Path:
    return next((folder / "kept").glob("stancebook-*.tar"))


def test_a_backup_can_be_tried_and_comes_back_with_every_row_and_file(place):
    old, new, here, there = place
    path = made(here)
    assert "Can be restored" in old.run("manage.py", "restore", "--verify", str(path))
    counts = old.query(COUNTS)
    uid = old.query(ERASE_ONE)
    (there / "erasures.jsonl").write_bytes((here / "erasures.jsonl").read_bytes())  # kept apart from the backup
    said = new.run("manage.py", "restore", str(path))
    assert "1 stored files" in said and "erased again: 1" in said
    after = new.query(COUNTS)
    assert after["LiftSet"] <= counts["LiftSet"] and after["Athlete"] == counts["Athlete"] - 1
    assert after["Picture"] == counts["Picture"] == 1
    assert new.query(f"Athlete.objects.filter(uid='{uid}').count()") == 0
    assert [p.read_bytes() for p in (there / "media" / "pictures").iterdir()] == [b"not really a jpeg"]
    with pytest.raises(AssertionError, match="not empty"):
        new.run("manage.py", "restore", str(path))


def test_the_list_names_every_table_and_member(place):
    manifest = read_manifest(made(place[2]))
    assert manifest.rows["athletes_athlete"] >= 2 and manifest.rows["athletes_picture"] == 1
    assert sum(name.startswith("stored/pictures/") for name in manifest.files) == 1


def rewritten(path: Path, target: Path, change: dict[str, bytes | None]) -> Path:
    """A backup with some members changed, or left out where the change is None."""
    with tarfile.open(path) as source, tarfile.open(target, "w") as out:
        for info in source:
            data = change.get(info.name, source.extractfile(info).read())
            if data is not None:
                info.size = len(data)
                out.addfile(info, io.BytesIO(data))
    return target


def test_a_backup_that_was_cut_short_or_changed_is_refused(place, tmp_path):
    path = made(place[2])
    picture = next(name for name in read_manifest(path).files if name.startswith("stored/"))
    for change, told in (
        ({archive.MANIFEST: None}, "cut short"),
        ({picture: b"another picture!"}, "is not what was backed up"),
        ({picture: None}, "is missing"),
    ):
        with pytest.raises(BackupError, match=told):
            read_manifest(rewritten(path, tmp_path / "other.tar", change))
    half = tmp_path / "half.tar"
    half.write_bytes(path.read_bytes()[: path.stat().st_size // 2])
    with pytest.raises(BackupError):
        read_manifest(half)


@pytest.mark.parametrize("name", ["../outside", "/outside", "stored/../../outside", archive.MANIFEST])
def test_a_member_that_would_leave_the_folder_is_refused(tmp_path, name):
    path = tmp_path / "backup.tar"
    listed = {"version": "1", "made_at": "", "vendor": "sqlite", "rows": {}, "files": {name: [1, "00"]}}
    with tarfile.open(path, "w") as out:
        for member, data in ((name, b"x"), (archive.MANIFEST, json.dumps(listed).encode())):
            info = tarfile.TarInfo(member)
            info.size = len(data)
            out.addfile(info, io.BytesIO(data))
    with pytest.raises(BackupError):
        read_manifest(path)


def test_other_counts_than_backed_up_are_an_error(place, tmp_path, monkeypatch):
    path = made(place[2])
    with tarfile.open(path) as opened:
        listed = json.loads(opened.extractfile(archive.MANIFEST).read())
    listed["rows"]["athletes_athlete"] += 1
    other = rewritten(path, tmp_path / "other.tar", {archive.MANIFEST: json.dumps(listed).encode()})
    with pytest.raises(AssertionError, match="athletes_athlete"):
        place[0].run("manage.py", "restore", "--verify", str(other))


def test_sqlite_backs_up_what_still_stands_in_the_log_beside_the_file(tmp_path, monkeypatch):
    import sqlite3

    writer = sqlite3.connect(tmp_path / "live.sqlite3")
    writer.executescript("PRAGMA journal_mode=WAL; PRAGMA wal_autocheckpoint=0; CREATE TABLE lifted (kg REAL);")
    writer.executemany("INSERT INTO lifted VALUES (?)", [(n,) for n in range(500)])
    writer.commit()  # in the log only: a copy of the file has no row of it
    monkeypatch.setattr(databases, "database_settings", lambda: {"NAME": tmp_path / "live.sqlite3"})
    assert databases._sqlite_out(tmp_path / "copy.sqlite3") == {"lifted": 500}
    writer.close()


def test_only_the_newest_backups_are_kept(tmp_path):
    names = [f"stancebook-2026110{n}T000000Z.tar" for n in range(1, 6)]
    for name in names:
        (tmp_path / name).touch()
    (tmp_path / "something-else.tar").touch()
    assert sorted(path.name for path in backup.keep_newest(tmp_path, 2)) == names[:3]
    assert sorted(path.name for path in tmp_path.iterdir()) == ["something-else.tar", *names[3:]]


def test_a_backup_that_fails_leaves_nothing_and_says_why(tmp_path, monkeypatch, db):
    def full(*args: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(backup, "copy_out", lambda target: {})
    monkeypatch.setattr(backup, "add_manifest", full)
    with pytest.raises(CommandError, match=r"No backup was made\. .*No space left"):
        call_command("backup", str(tmp_path / "kept"))
    assert list((tmp_path / "kept").iterdir()) == []
    with pytest.raises(CommandError, match="--keep wants 1 or more"):
        call_command("backup", str(tmp_path / "kept"), keep=0)
