"""A backup as one tar file: the database, the stored files, the ledger of erasures, and last a list of all of them.

The list (`manifest.json`) names every member with its bytes and SHA-256 and the number of rows of every table. It is
the last member, so a backup that was cut short has none and is refused.
"""

import hashlib
import json
import tarfile
from collections.abc import Iterator
from dataclasses import asdict, dataclass, field
from pathlib import Path, PurePosixPath
from typing import IO

MANIFEST = "manifest.json"
LEDGER = "erasures.jsonl"
DATABASES = {"sqlite": "database.sqlite3", "postgresql": "database.dump"}
BLOCK = 1 << 20


class BackupError(Exception):
    """A backup that cannot be made or taken back, with a sentence for the person at the machine."""


@dataclass(frozen=True, slots=True)
class Manifest:
    """What a backup holds. `files`: member -> (bytes, SHA-256 in hex); `rows`: table -> rows."""

    version: str
    made_at: str
    vendor: str
    rows: dict[str, int]
    files: dict[str, tuple[int, str]] = field(default_factory=dict)


def sha256_of(stream: IO[bytes]) -> tuple[int, str]:
    """Bytes and SHA-256 (hex) of what is left in a stream."""
    digest, size = hashlib.sha256(), 0
    while block := stream.read(BLOCK):
        digest.update(block)
        size += len(block)
    return size, digest.hexdigest()


def add_stream(archive: tarfile.TarFile, name: str, stream: IO[bytes], size: int, manifest: Manifest) -> None:
    """Append the next `size` bytes of a stream under `name` and note their hash as they go in.

    A file that grows meanwhile (the ledger) is taken up to `size`; one that shrank raises OSError.
    """
    info = tarfile.TarInfo(name)
    info.size, info.mode = size, 0o600
    hashed = _Hashed(stream)
    archive.addfile(info, hashed)
    manifest.files[name] = (size, hashed.digest.hexdigest())


class _Hashed:
    """A stream whose read bytes are hashed."""

    def __init__(self, stream: IO[bytes]) -> None:
        self.stream, self.digest = stream, hashlib.sha256()

    def read(self, size: int = -1) -> bytes:
        data = self.stream.read(size)
        self.digest.update(data)
        return data


def add_manifest(archive: tarfile.TarFile, manifest: Manifest, folder: Path) -> None:
    path = folder / MANIFEST
    path.write_text(json.dumps(asdict(manifest), indent=1))
    archive.add(path, MANIFEST, recursive=False)


def read_manifest(path: Path) -> Manifest:
    """The list of a backup whose every member has the bytes and the hash of the list; BackupError otherwise."""
    try:
        with tarfile.open(path) as archive:
            found = {info.name: info for info in archive if info.isfile()}
            if MANIFEST not in found:
                raise BackupError(f"{path.name} has no {MANIFEST}: the backup was cut short.")
            manifest = Manifest(**json.loads(_stream(archive, MANIFEST).read()))
            for name, (size, digest) in manifest.files.items():
                if not _inside(name) or name not in found:
                    raise BackupError(f"{path.name}: {name} is missing.")
                if sha256_of(_stream(archive, name)) != (size, digest):
                    raise BackupError(f"{path.name}: {name} is not what was backed up.")
    except (tarfile.TarError, OSError, EOFError, ValueError, TypeError) as broken:
        raise BackupError(f"{path.name} cannot be read as a backup: {broken}") from broken
    return manifest


def members(path: Path, manifest: Manifest, folder: Path) -> Iterator[tuple[str, Path]]:
    """Each member of the list, written below `folder`, with its name."""
    with tarfile.open(path) as archive:
        for name in manifest.files:
            target = folder / name
            target.parent.mkdir(parents=True, exist_ok=True)
            with target.open("wb") as out:
                stream = _stream(archive, name)
                while block := stream.read(BLOCK):
                    out.write(block)
            yield name, target


def _stream(archive: tarfile.TarFile, name: str) -> IO[bytes]:
    stream = archive.extractfile(name)
    if stream is None:
        raise BackupError(f"{name} is no file.")
    return stream


def _inside(name: str) -> bool:
    """Whether a member stays in the folder it is written to."""
    path = PurePosixPath(name)
    return not path.is_absolute() and ".." not in path.parts and name != MANIFEST
