"""The commands `make coverage` and `make audit` fail when they should and say why."""

import runpy
from pathlib import Path

import pytest

from tests.coverage_floors import room_of, under_floor

ROOT = Path(__file__).resolve().parents[1]


@pytest.mark.parametrize(
    ("path", "room"),
    [
        ("athletes/units/fields.py", "athletes/units"),
        ("athletes/urls.py", "athletes"),
        ("analysis/core/pull/bar/bend.py", "analysis/core/pull"),
    ],
)
def test_a_room_is_a_folder_of_an_app_and_in_the_core_one_deeper(path, room):
    assert room_of(path) == room


def test_a_room_under_its_floor_is_named_with_both_numbers():
    rooms = {"athletes/forms": (89, 100), "athletes/views": (90, 100), "athletes": (70, 100)}
    floors = {"elsewhere": 80, "athletes/forms": 90, "athletes/views": 90, "athletes/gone": 90}
    assert under_floor(rooms, floors) == [
        "athletes/gone: there is no such room",
        "athletes/forms: 89.0 % of the lines ran, the floor is 90 %",
        "athletes: 70.0 % of the lines ran, the floor is 80 %",
    ]


@pytest.fixture
def verdict():
    return runpy.run_path(str(ROOT / ".ci" / "audit.py"))["verdict"]


def test_the_audit_fails_on_an_advisory_and_names_it(verdict, capsys):
    found = [{"name": "a", "version": "1", "vulns": [{"id": "X-1"}]}, {"name": "b", "version": "2", "vulns": []}]
    assert verdict(found) == 1
    assert "a 1: X-1" in capsys.readouterr().out


def test_the_audit_says_when_nothing_could_be_checked(verdict, capsys):
    assert verdict([{"name": "a", "skip_reason": "not found"}]) == 0
    assert "NO package was checked" in capsys.readouterr().out
    assert verdict([{"name": "a", "skip_reason": "not found"}, {"name": "b", "version": "2", "vulns": []}]) == 0
    said = capsys.readouterr().out
    assert "a: not checked, not found" in said and "2 packages, 0 with a published advisory" in said
