"""Make a backup, try it, take it back."""

import tarfile
import tempfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.files import File
from django.core.files.storage import Storage, default_storage
from django.core.management import call_command
from django.utils import timezone

from athletes.operations.archive import (
    DATABASES,
    LEDGER,
    BackupError,
    Manifest,
    add_manifest,
    add_stream,
    members,
    read_manifest,
)
from athletes.operations.databases import copy_in, copy_out, database_settings, empty_database, vendor
from athletes.privacy.erasure import apply_erasures
from athletes.privacy.ledger import erased_uids, merge_ledger
from config import VERSION

STORED = "stored/"  # members that were files of the storage, by their name there
PATTERN = "stancebook-*.tar"


@dataclass(frozen=True, slots=True)
class Restored:
    """What came back: rows in all tables, stored files, athletes and accounts erased again."""

    rows: int
    files: int
    erased: int


def make_backup(folder: Path) -> Path:
    """A new backup in `folder`; it has its name only when it is whole."""
    folder.mkdir(parents=True, exist_ok=True)
    made_at = timezone.now()
    target = folder / f"stancebook-{made_at:%Y%m%dT%H%M%SZ}.tar"
    with tempfile.TemporaryDirectory(dir=folder, prefix=".backup-") as scratch:
        part = Path(scratch) / target.name
        database = Path(scratch) / DATABASES[vendor()]
        rows = copy_out(database)
        manifest = Manifest(VERSION, made_at.isoformat(), vendor(), rows)
        with tarfile.open(part, "w") as archive:
            for name, path in ((database.name, database), (LEDGER, Path(settings.ERASURE_LEDGER))):
                if path.exists():
                    with path.open("rb") as stream:
                        add_stream(archive, name, stream, path.stat().st_size, manifest)
            _add_stored(archive, manifest)
            add_manifest(archive, manifest, Path(scratch))
        part.chmod(0o600)
        part.rename(target)
    return target


def _add_stored(archive: tarfile.TarFile, manifest: Manifest) -> None:
    """Every file of the storage; one that somebody deletes meanwhile is left out, as its row is soon."""
    for name in stored_names(default_storage):
        try:
            with default_storage.open(name) as stream:
                add_stream(archive, STORED + name, stream, default_storage.size(name), manifest)
        except FileNotFoundError:
            continue


def stored_names(storage: Storage, folder: str = "") -> Iterator[str]:
    """The names of every file of a storage."""
    try:
        folders, files = storage.listdir(folder)
    except FileNotFoundError:
        return
    yield from (f"{folder}{name}" for name in sorted(files))
    for one in sorted(folders):
        yield from stored_names(storage, f"{folder}{one}/")


def keep_newest(folder: Path, count: int) -> list[Path]:
    """Delete all but the newest `count` backups of a folder; the deleted ones."""
    old = sorted(folder.glob(PATTERN), reverse=True)[count:]
    for path in old:
        path.unlink()
    return old


def try_backup(path: Path) -> Restored:
    """Restore a backup into an empty place beside the one in use, compare every count and hash, and remove it again."""
    manifest = _of_this_kind(path)
    with tempfile.TemporaryDirectory() as scratch:
        files = dict(members(path, manifest, Path(scratch)))
        with empty_database(Path(scratch)) as database:
            rows = _database_in(files, manifest, database)
    return Restored(sum(rows.values()), sum(name.startswith(STORED) for name in files), 0)


def restore_backup(path: Path) -> Restored:
    """Fill the empty database and storage of the settings from a backup, then erase again whoever was erased since.

    BackupError, and nothing changed, when the backup is not whole or the place is not empty.
    """
    manifest = _of_this_kind(path)
    if first := next(stored_names(default_storage), None):
        raise BackupError(f"The storage is not empty ({first}). Restore into a new place; nothing was changed.")
    with tempfile.TemporaryDirectory() as scratch:
        files = dict(members(path, manifest, Path(scratch)))
        rows = _database_in(files, manifest, database_settings())
        stored = {name: file for name, file in files.items() if name.startswith(STORED)}
        for name, file in stored.items():
            with file.open("rb") as stream:
                _store(name.removeprefix(STORED), File(stream))
        if LEDGER in files:
            merge_ledger(files[LEDGER])
    call_command("migrate", verbosity=0)
    return Restored(sum(rows.values()), len(stored), apply_erasures() if erased_uids() else 0)


def _store(name: str, file: File) -> None:
    """Store a file under the very name that its row knows."""
    if (given := default_storage.save(name, file)) != name:
        raise BackupError(f"The storage gave {name} another name, {given}.")


def _of_this_kind(path: Path) -> Manifest:
    manifest = read_manifest(path)
    if manifest.vendor != vendor():
        raise BackupError(f"{path.name} is of {manifest.vendor}; this server runs on {vendor()}.")
    return manifest


def _database_in(files: Mapping[str, Path], manifest: Manifest, database: Mapping[str, Any]) -> dict[str, int]:
    """Fill an empty database; rows by table, which must be those of the backup."""
    rows = copy_in(files[DATABASES[manifest.vendor]], database)
    if rows != manifest.rows:
        wrong = sorted(name for name in rows.keys() | manifest.rows.keys() if rows.get(name) != manifest.rows.get(name))
        raise BackupError(f"Other numbers of rows than backed up in: {', '.join(wrong)}.")
    return rows
