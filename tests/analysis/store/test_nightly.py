"""A club's profiles are worked out when its own day begins, in short steps, whatever one log does."""

from collections import Counter
from datetime import UTC, datetime

import pytest

from analysis.models import StoredProfile
from analysis.store import nightly, profiles
from athletes.models import Athlete, Club


@pytest.fixture
def asked(monkeypatch):
    clubs = []
    monkeypatch.setattr(nightly, "refresh_club", type("Task", (), {"enqueue": staticmethod(clubs.append)}))
    return clubs


@pytest.mark.parametrize(("utc", "asks"), [(22, False), (23, True), (0, False)])
def test_a_club_is_refreshed_at_its_own_midnight(cast, asked, utc, asks):
    Club.objects.update(timezone="UTC")
    Club.objects.filter(pk=cast.quarry.pk).update(timezone="Europe/Berlin")
    nightly.refresh_new_days(datetime(2026, 11, 27, utc, tzinfo=UTC))
    assert (cast.quarry.pk in asked) is asks
    assert (cast.harbour.pk in asked) is (utc == 0)


@pytest.fixture
def two_kinds(monkeypatch):
    worked = []

    def compute(sources):
        worked.append(sources.athlete.name)
        if sources.athlete.name == "Petra Moss":
            raise ZeroDivisionError
        return {"done": True}

    monkeypatch.setattr(profiles, "KINDS", {"a": compute})
    monkeypatch.setattr(nightly, "KINDS", profiles.KINDS)
    return worked


def test_every_active_athlete_is_worked_out_and_one_bad_log_stops_nobody(cast, two_kinds, caplog):
    nightly.refresh_club.func(cast.quarry.pk)
    active = set(Athlete.objects.filter(club=cast.quarry, active=True).values_list("name", flat=True))
    assert set(two_kinds) == active and "Petra Moss" in active
    assert set(StoredProfile.objects.values_list("athlete__name", flat=True)) == active - {"Petra Moss"}
    assert "could not be worked out" in caplog.text


def test_what_still_holds_is_not_worked_out_again(cast, two_kinds):
    nightly.refresh_some(cast.quarry, 0)
    two_kinds.clear()
    assert nightly.refresh_some(cast.quarry, 0) is None
    assert set(two_kinds) == {"Petra Moss"}


def test_a_step_ends_after_its_time_and_the_next_goes_on_behind_it(cast, two_kinds):
    first = nightly.refresh_some(cast.quarry, 0, seconds=-1)
    assert len(two_kinds) == 1 and first is not None
    nightly.refresh_some(cast.quarry, first, seconds=60)
    readers = {"Petra Moss": 2}  # fails for who may see health and is tried once more without it
    active = cast.quarry.athletes.filter(active=True).values_list("name", flat=True)
    assert Counter(two_kinds) == {name: readers.get(name, 1) for name in active}
