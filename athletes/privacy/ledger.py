"""The list of erasures, kept outside the database so that a restored backup cannot bring anybody back.

One line of JSON per erasure: the random uid of the athlete or account and the day. It names nobody.
"""

import json
import logging
import os
from pathlib import Path
from uuid import UUID

from django.conf import settings
from django.utils import timezone

logger = logging.getLogger(__name__)


def append_erasure(uid: UUID) -> None:
    """Write one line and wait until the disk has it; done before the rows go, so that a crash between is mended."""
    path = Path(settings.ERASURE_LEDGER)
    path.parent.mkdir(parents=True, exist_ok=True)
    line = json.dumps({"uid": str(uid), "on": timezone.localdate().isoformat()}) + "\n"
    handle = os.open(path, os.O_RDWR | os.O_APPEND | os.O_CREAT, 0o600)
    try:
        size = os.fstat(handle).st_size
        torn = size and os.pread(handle, 1, size - 1) != b"\n"  # a write that a crash or a full disk cut short
        _write_whole(handle, (("\n" if torn else "") + line).encode())
        os.fsync(handle)
    finally:
        os.close(handle)


def _write_whole(handle: int, data: bytes) -> None:
    """Write every byte; OSError when the disk takes no more, so that nothing is erased without its line."""
    while data:
        written = os.write(handle, data)
        if written == 0:
            raise OSError("the ledger of erasures cannot be written")
        data = data[written:]


def erased_uids() -> list[UUID]:
    """Every uid ever erased. A torn line is skipped with a warning: what it began was refused, or written again."""
    path = Path(settings.ERASURE_LEDGER)
    if not path.exists():
        return []
    found = []
    for number, line in enumerate(path.read_text(errors="replace").splitlines(), start=1):
        try:
            found += [UUID(json.loads(line)["uid"])] if line.strip() else []
        except (ValueError, TypeError, KeyError, AttributeError):
            logger.warning("Line %d of the ledger of erasures cannot be read and is skipped", number)
    return found


def merge_ledger(other: Path) -> None:
    """Take over the lines of a ledger that came back with a backup and are not in this one."""
    path = Path(settings.ERASURE_LEDGER)
    known = set(path.read_text(errors="replace").splitlines()) if path.exists() else set()
    new = [line for line in other.read_text(errors="replace").splitlines() if line.strip() and line not in known]
    if not new:
        return
    path.parent.mkdir(parents=True, exist_ok=True)
    handle = os.open(path, os.O_WRONLY | os.O_APPEND | os.O_CREAT, 0o600)
    try:
        _write_whole(handle, ("\n" * bool(known) + "\n".join(new) + "\n").encode())
        os.fsync(handle)
    finally:
        os.close(handle)
