"""Reading an athlete's copy from another club: sizes first, then names, then every value."""

import json
import re
import zipfile
import zlib
from dataclasses import dataclass
from typing import IO, Any

from athletes.exporting import shape
from athletes.reader.notes import Refused

MOST_UNPACKED = 400 * 1024 * 1024
MOST_JSON = 40 * 1024 * 1024
MOST_PICTURES = 500
MOST_PICTURE = 12 * 1024 * 1024
MOST_ROWS = {"sets": 60_000}
DAMAGED = (
    zipfile.BadZipFile,
    zlib.error,
    RuntimeError,
    RecursionError,
    ValueError,
    OSError,
    NotImplementedError,
    EOFError,
)
PICTURE = re.compile(r"pictures/[0-9a-f-]{36}\.jpg")


@dataclass
class Copy:
    """A copy that passed the checks of its outside; `packed` gives its pictures."""

    data: dict[str, Any]
    packed: zipfile.ZipFile

    @property
    def name(self) -> str:
        return str(self.data["athlete"]["name"])

    def rows(self, name: str) -> list[dict[str, Any]]:
        """A list of the copy, checked to be one."""
        found = self.data.get(name) or []
        if not isinstance(found, list) or not all(isinstance(row, dict) for row in found):
            raise Refused(f"“{name}” in athlete.json is not a list of entries.")
        most = MOST_ROWS.get(name, 20_000)
        if len(found) > most:
            raise Refused(f"“{name}” in athlete.json has {len(found):,} entries; at most {most:,} are read.")
        return found

    def picture(self, name: str) -> bytes | None:
        """A picture's bytes, None when the copy does not hold it whole."""
        if not PICTURE.fullmatch(name) or name not in self.packed.namelist():
            return None
        try:
            return self.packed.read(name)
        except DAMAGED:
            return None


def read_copy(file: IO[bytes]) -> Copy:
    """Open a copy; raises Refused when it is none, or too large, or not of this version."""
    try:
        packed = zipfile.ZipFile(file)
        parts = packed.infolist()
    except (zipfile.BadZipFile, OSError, NotImplementedError, ValueError):
        raise Refused("This is not a ZIP file that can be opened.") from None
    _check_sizes(parts)
    try:
        data = json.loads(packed.read("athlete.json").decode("utf-8"))
    except KeyError:
        raise Refused("The ZIP file holds no athlete.json: it is not an athlete's copy.") from None
    except json.JSONDecodeError as problem:
        raise Refused(f"athlete.json, line {problem.lineno}, column {problem.colno}: {problem.msg}.") from None
    except DAMAGED:
        raise Refused("athlete.json in the ZIP file is damaged.") from None
    if not isinstance(data, dict) or data.get("format") != shape.FORMAT or not isinstance(data.get("athlete"), dict):
        raise Refused("athlete.json does not say that it is an athlete's copy.")
    if data.get("version") != shape.VERSION:
        raise Refused(
            f"The copy is of version {str(data.get('version'))[:20]}; this club reads version {shape.VERSION}."
        )
    if not isinstance(data["athlete"].get("name"), str) or not data["athlete"]["name"].strip():
        raise Refused("athlete.json names nobody.")
    return Copy(data, packed)


def _check_sizes(parts: list[zipfile.ZipInfo]) -> None:
    whole = sum(part.file_size for part in parts)
    if whole > MOST_UNPACKED:
        raise Refused(
            f"The ZIP file would unpack to {whole // 2**20:,} MB; at most {MOST_UNPACKED // 2**20} MB are read."
        )
    if len(parts) > MOST_PICTURES + 10:
        raise Refused(f"The ZIP file holds {len(parts):,} files; at most {MOST_PICTURES + 10} are read.")
    for part in parts:
        most = MOST_JSON if part.filename == "athlete.json" else MOST_PICTURE
        if part.filename != "lifts.csv" and part.file_size > most:
            size = f"{part.file_size // 2**20} MB; at most {most // 2**20} MB are read"
            raise Refused(f"{part.filename[:60]} in the ZIP file has {size}.")
