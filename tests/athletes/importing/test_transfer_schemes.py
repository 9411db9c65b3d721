"""Sets and reps written as "3x5" beside a column of loads: read, or asked about, never dropped."""

import pytest

from tests.athletes.importing.import_steps import outcome, read_in, sets_in
from tests.cast import make_cast


@pytest.fixture
def club(db):
    return make_cast()


@pytest.mark.parametrize("heading", ["Set", "Satz", "what we did"])
def test_sets_and_reps_beside_a_load_are_all_taken(club, heading):
    batch = read_in(club, f"date,lifter,lift,{heading},load,unit\n2026-11-20,Ada Fell,sumo,3x5,140,kg\n")
    assert [(s["load_kg"], s["reps_made"]) for s in sets_in(batch)] == [(140.0, 5)] * 3


def test_a_whole_set_beside_another_load_is_asked_about(club):
    batch = read_in(club, "date,lifter,lift,set,load,unit\n2026-11-20,Ada Fell,sumo,5x3@180,140,kg\n")
    [(_, status, reason)] = outcome(batch)
    assert status == "ask" and "5x3@180" in reason


def test_a_line_without_its_reps_is_shown_as_a_guess(club):
    batch = read_in(club, "date,lifter,lift,set,load,unit\n2026-11-20,Ada Fell,sumo,,140,kg\n")
    [(_, status, reason)] = outcome(batch)
    assert status == "guess" and "no reps" in reason
