"""The list of erasures, kept outside the database so that a restored backup cannot bring anybody back.

One line of JSON per erasure: the random uid of the athlete or account and the day. It names nobody.
"""

import json
import os
from pathlib import Path
from uuid import UUID

from django.conf import settings
from django.utils import timezone


def append_erasure(uid: UUID) -> None:
    """Write one line and wait until the disk has it; done before the rows go, so that a crash between is mended."""
    path = Path(settings.ERASURE_LEDGER)
    path.parent.mkdir(parents=True, exist_ok=True)
    line = json.dumps({"uid": str(uid), "on": timezone.localdate().isoformat()}) + "\n"
    handle = os.open(path, os.O_WRONLY | os.O_APPEND | os.O_CREAT, 0o600)
    try:
        os.write(handle, line.encode())
        os.fsync(handle)
    finally:
        os.close(handle)


def erased_uids() -> list[UUID]:
    """Every uid ever erased; a line that cannot be read is an error, never skipped."""
    path = Path(settings.ERASURE_LEDGER)
    if not path.exists():
        return []
    return [UUID(json.loads(line)["uid"]) for line in path.read_text().splitlines() if line.strip()]
