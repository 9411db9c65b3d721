"""Opens a workbook in a process of its own, which may use so much memory and time and no more.

`python -m athletes.importing.files.workbook SOURCE FOLDER [SHEET]` leaves in the folder how far it is, the table, and
at last the outcome. Without an outcome the process was killed; whoever started it may start it again.
"""

import os
import signal
import sys
import threading
import time
from contextlib import suppress
from dataclasses import asdict
from pathlib import Path

from athletes.reader.file.places import AT, OUTCOME, TABLE, put
from athletes.reader.file.sheet import sheet_to_csv
from athletes.reader.notes import Refused

MOST_MEMORY = 300 * 1024 * 1024
MOST_SECONDS = 180
TOO_MUCH = f"The workbook takes more than {MOST_MEMORY // 2**20} MB of memory to open. Save the sheet as CSV."
TOO_LONG = f"The workbook takes more than {MOST_SECONDS} seconds to open. Save the sheet as CSV."


def hold_down(memory: int = MOST_MEMORY, seconds: int = MOST_SECONDS) -> None:
    """Limits of this process, where the system has them; others on the machine go first."""
    try:
        import resource
    except ImportError:
        return
    os.nice(5)
    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 10))
    signal.signal(signal.SIGXCPU, _stop)
    pages = Path("/proc/self/statm")
    if pages.exists():
        used = int(pages.read_text().split()[0]) * resource.getpagesize()
        resource.setrlimit(resource.RLIMIT_AS, (used + memory, used + memory))


def _stop(number: int, frame: object) -> None:
    raise Refused(TOO_LONG)


def open_sheet(source: Path, folder: Path, sheet: str) -> dict[str, object]:
    """Write the table; the outcome is what was made, or why the workbook is refused."""

    def tell(row: int, about: int) -> None:
        if not source.exists():  # put away meanwhile
            raise SystemExit
        put(folder / AT, {"row": row, "about": about})

    try:
        return asdict(sheet_to_csv(source, folder / TABLE, sheet, tell))
    except Refused as problem:
        return {"refused": str(problem)}
    except MemoryError:
        return {"refused": TOO_MUCH}


def _beat(at: Path) -> None:
    """Touch the progress file every second, so that a killed process is noticed."""
    while True:
        with suppress(OSError):
            os.utime(at)
        time.sleep(1.0)


def main() -> None:
    source, folder, *sheet = sys.argv[1:]
    hold_down()
    threading.Thread(target=_beat, args=(Path(folder) / AT,), daemon=True).start()
    put(Path(folder) / OUTCOME, open_sheet(Path(source), Path(folder), *sheet or [""]))


if __name__ == "__main__":
    main()
