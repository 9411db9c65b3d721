"""A server killed with signal 9 leaves all of an import or nothing, and the next step goes on from there."""

from pathlib import Path

import pytest

from tests.athletes.importing.killing import Found, Killed

LINES, SETS = 3_000, 100_000
pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def laid_out(tmp_path_factory) -> Killed:
    """100,000 sets that wait for their move."""
    there = Killed(tmp_path_factory.mktemp("laid_out"))
    found = there.run("lay-out", str(SETS))
    assert (found.waiting, found.brought_in, found.sound) == (SETS, 0, True)
    return there


def goes_on(there: Killed, found: Found, sets: int) -> None:
    assert found.brought_in in (0, sets)
    assert found.sound
    end = there.run("go-on")
    assert (end.status, end.brought_in, end.waiting, end.sound) == ("done", sets, 0, True)


@pytest.mark.parametrize("moment", ["reading", "laying out"])
def test_killed_between_two_commits(tmp_path: Path, moment):
    there = Killed(tmp_path)
    found = there.kill("begin", str(LINES), at=moment, count=1_000, stop=True)
    assert found.brought_in == 0
    assert 0 < (found.lines if moment == "reading" else found.waiting) < LINES
    goes_on(there, found, LINES)
    assert there.found().lines == LINES
    assert there.found().lifted == sum((100 + i % 100) * (1 + i % 5) for i in range(LINES))


@pytest.mark.parametrize(
    ("moment", "after", "stop"),
    [("moving", 0.1, False), ("inserted", 0.0, True), ("inserted", 0.03, False), ("moved", 0.0, True)],
)
def test_killed_while_100_000_sets_are_moved(laid_out: Killed, tmp_path: Path, moment, after, stop):
    """Inside the INSERT, after it, about in the commit, and after the commit."""
    there = laid_out.copy(tmp_path / "copy")
    found = there.kill("go-on", at=moment, after=after, stop=stop)
    if stop:
        assert found.brought_in == (SETS if moment == "moved" else 0)
    goes_on(there, found, SETS)


def test_killed_while_100_000_sets_are_taken_back(laid_out: Killed, tmp_path: Path):
    there = laid_out.copy(tmp_path / "copy")
    assert there.run("go-on").brought_in == SETS
    found = there.kill("undo", at="undoing", after=0.08)
    assert found.brought_in in (0, SETS)
    assert (found.sound, found.status) == (True, "undone" if found.brought_in == 0 else "done")
    end = there.run("undo")
    assert (end.brought_in, end.status, end.sound) == (0, "undone", True)
