"""An import of 100,000 lines killed with signal 9 at many moments: all of it in the log afterwards, or nothing.

`python -m tests.benchmarks.bench_killed_import [lines]` takes one log in from its upload on a SQLite database of its
own, is killed while reading and while laying out and goes on each time; then kills copies of what stands just before
the move, and before an undo, at moments spread over them. It prints what the log held after each kill, and whether
going on led to the whole import. PostgreSQL undoes what a killed client had not committed; nothing here is about that.
"""

import sys
import tempfile
import time
from pathlib import Path

from tests.athletes.importing.killing import Found, Killed

MOVE_AFTER = (0.02, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4)
UNDO_AFTER = (0.02, 0.05, 0.1, 0.15, 0.2, 0.3)


class Table:
    """What was seen, row by row; every row is held to what it must be."""

    def __init__(self, lines: int) -> None:
        self.lines, self.all, self.none = lines, 0, 0
        self.lifted = float(sum((100 + i % 100) * (1 + i % 5) for i in range(lines)))
        print("| killed | lines read, sets laid out | sets in the log after the kill | database | at the end |")
        print("|---|---|---|---|---|")

    def tell(self, moment: str, found: Found, end: Found | None = None, ends_with: int = 0) -> None:
        assert found.brought_in in (0, self.lines), found
        assert found.sound, found
        assert found.lifted == (self.lifted if found.brought_in else 0.0), found
        self.all, self.none = self.all + (found.brought_in > 0), self.none + (found.brought_in == 0)
        if end:
            assert (end.brought_in, end.waiting, end.sound) == (ends_with, 0, True), end
        said = f"{end.brought_in:,} sets, {end.status}" if end else "goes on below"
        print(f"| {moment} | {found.lines:,}, {found.waiting:,} | {found.brought_in:,} | sound | {said} |", flush=True)


def main(lines: int) -> None:
    began = time.monotonic()
    with tempfile.TemporaryDirectory() as place:
        folder, table = Path(place), Table(lines)
        there = Killed(folder / "first")
        there.folder.mkdir()
        for share in (0.1, 0.5, 0.9):
            first = "go-on" if there.database.exists() else "begin"
            left = 0.4 if first == "go-on" else share
            found = there.kill(
                first, *([str(lines)] if first == "begin" else []), at="reading", count=int(left * lines)
            )
            table.tell(f"reading, {found.lines / lines:.0%} of the lines read", found)
        for share in (0.2, 0.3):
            found = there.kill("go-on", at="laying out", count=int(share * lines))
            table.tell(f"laying out, {found.waiting / lines:.0%} of the sets laid out", found)
        found = there.kill("go-on", at="moving", stop=True)
        table.tell("as the move begins, holding the lock", found)
        copy = folder / "copy"
        for after in MOVE_AFTER:
            again = there.copy(copy)
            found = again.kill("go-on", at="moving", after=after)
            table.tell(f"{after:.2f} s after the move began", found, again.run("go-on"), lines)
        for moment in ("inserted", "moved"):
            again = there.copy(copy)
            found = again.kill("go-on", at=moment, stop=True)
            table.tell({"inserted": "before the commit", "moved": "after the commit"}[moment], found,
                       again.run("go-on"), lines)  # fmt: skip
        there = again.copy(folder / "done")
        for after in UNDO_AFTER:
            again = there.copy(copy)
            found = again.kill("undo", at="undoing", after=after)
            table.tell(f"{after:.2f} s after the undo began", found, again.run("undo"), 0)
        print(f"\n{table.none + table.all} kills: {table.none} left nothing, {table.all} left all {lines:,} sets, "
              f"none a part; {time.monotonic() - began:.0f} s in all")  # fmt: skip


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 100_000)
