"""The limits of a meet's entries and attempts at the number and day on which they turn."""

from datetime import timedelta

import pytest
from django.utils import timezone

from athletes.meets.entries import Unreadable, find_entry, parse_attempt
from athletes.meets.services import _usual_grip
from athletes.models import LiftSet
from tests.analysis.meets.meeting import a_meet, enter


@pytest.mark.parametrize("pk", [0, -1, 2**63, True, "1"])
def test_a_number_that_no_row_has_finds_no_entry(cast, pk):
    """2**63 is one more than a database keeps: asked for, it would end in an error."""
    assert find_entry(cast.ona, cast.quarry, pk) is None


@pytest.mark.parametrize(("number", "read"), [(0, False), (1, True), (4, True), (5, False)])
def test_attempts_are_numbered_from_one_to_four(number, read):
    sent = {"lift": "deadlift", "number": number, "load_typed": "180", "load_unit": "kg"}
    if read:
        assert parse_attempt("u", sent, timezone.now()).number == number
    else:
        with pytest.raises(Unreadable, match="not 1 to 4"):
            parse_attempt("u", sent, timezone.now())


@pytest.mark.parametrize(("after", "grip"), [(0, "hook"), (1, "unknown")])
def test_the_usual_grip_is_that_of_pulls_up_to_the_day(cast, after, grip):
    entry = enter(a_meet(cast.quarry, days=0), cast.athletes["ada"])
    day = entry.meet.day + timedelta(days=after)
    LiftSet.objects.create(
        athlete=entry.athlete, day=day, load_typed="100", load_unit="kg", load_kg=100.0, style="sumo", grip="hook"
    )
    assert _usual_grip(entry) == grip
