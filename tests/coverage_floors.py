"""Prints how much of each room the tests run, and fails where a room is under its floor.

    coverage run -m pytest ... && coverage combine && python -m tests.coverage_floors [--write]

A room is a folder of an app, in the core two folders deep. `--write` sets every floor one per cent under what was
measured, to be done when rooms are moved or a room has become better.
"""

import json
import subprocess
import sys
import tempfile
import tomllib
from collections import defaultdict
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
FLOORS = Path(__file__).with_suffix(".toml")
HEAD = """# Least share of lines, in per cent, that the unit tests run in each room (`make coverage`).
# "elsewhere" is the floor of a room without a line of its own.
"""


def room_of(path: str) -> str:
    """`athletes/units/fields.py` -> `athletes/units`; files beside the rooms count for the app."""
    parts = Path(path).parts[:-1]
    deep = 3 if parts[1:2] == ("core",) else 2
    return "/".join(parts[:deep])


def measured() -> dict[str, tuple[int, int]]:
    """Room -> lines that ran and lines there are, from the data file of coverage."""
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "coverage.json"
        command = [sys.executable, "-m", "coverage", "json", "--quiet", "-o", str(out)]
        subprocess.run(command, cwd=ROOT, check=True)
        files = json.loads(out.read_text())["files"]
    found: dict[str, list[int]] = defaultdict(lambda: [0, 0])
    for path, report in files.items():
        room, summary = found[room_of(path)], report["summary"]
        room[0] += summary["covered_lines"]
        room[1] += summary["num_statements"]
    return {room: (ran, lines) for room, (ran, lines) in sorted(found.items()) if lines}


def under_floor(rooms: dict[str, tuple[int, int]], floors: dict[str, float]) -> list[str]:
    """A sentence for each room under its floor, and for each floor without a room."""
    wrong = [f"{name}: there is no such room" for name in floors if name != "elsewhere" and name not in rooms]
    for room, (ran, lines) in rooms.items():
        share, floor = 100.0 * ran / lines, floors.get(room, floors["elsewhere"])
        if share < floor:
            wrong.append(f"{room}: {share:.1f} % of the lines ran, the floor is {floor:g} %")
    return wrong


def write(rooms: dict[str, tuple[int, int]]) -> None:
    """Set every floor a per cent under what was measured."""
    lines = [f'"{room}" = {int(100 * ran / total) - 1}' for room, (ran, total) in rooms.items()]
    FLOORS.write_text(HEAD + "\n".join(["elsewhere = 85", *lines]) + "\n")


def main() -> int:
    rooms = measured()
    if "--write" in sys.argv:
        write(rooms)
    floors = tomllib.loads(FLOORS.read_text())
    for room, (ran, lines) in rooms.items():
        print(
            f"{room:32}{lines:7} lines {100.0 * ran / lines:6.1f} %   floor {floors.get(room, floors['elsewhere']):g}"
        )
    total = sum(r for r, _ in rooms.values()), sum(n for _, n in rooms.values())
    print(f"{'all':32}{total[1]:7} lines {100.0 * total[0] / total[1]:6.1f} %")
    wrong = under_floor(rooms, floors)
    print("\n".join(wrong), file=sys.stderr, end="\n" if wrong else "")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
