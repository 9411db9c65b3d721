"""A stored profile is read while its inputs stand and computed anew when any of them, or the day, changes."""

from datetime import date, timedelta

import pytest

from analysis.store import profiles
from athletes.models import Athlete, LiftSet, Measurement, MeasuringVisit, SettingOverride, TrainingDay

DAY = date(2026, 3, 10)


@pytest.fixture
def counted(monkeypatch):
    """How often the squad row was computed, per athlete."""
    calls: list[int] = []
    real = profiles.KINDS["squad"]

    def counting(sources):
        calls.append(sources.athlete.pk)
        return real(sources)

    monkeypatch.setitem(profiles.KINDS, "squad", counting)
    return calls


def lift(athlete, **more):
    return LiftSet.objects.create(
        **{
            "athlete": athlete,
            "day": DAY,
            "load_typed": "100",
            "load_unit": "kg",
            "load_kg": 100,
            "style": "sumo",
            **more,
        }
    )


def test_reading_twice_computes_once(cast, counted):
    ada = cast.athletes["ada"]
    lift(ada)
    first = profiles.profile_of(ada, "squad", DAY, sees_health=True)
    assert profiles.profile_of(ada, "squad", DAY, sees_health=True) == first
    assert counted == [ada.pk]


@pytest.mark.parametrize("change", ["set", "measurement", "setting", "delete", "day"])
def test_any_changed_input_makes_it_new(cast, counted, change):
    ada = cast.athletes["ada"]
    old = lift(ada)
    visit = MeasuringVisit.objects.create(athlete=ada, day=DAY)
    before = profiles.profile_of(ada, "squad", DAY, sees_health=True)
    day = DAY
    if change == "set":
        lift(ada, load_kg=120, result="missed", reps_made=0)
    elif change == "measurement":
        Measurement.objects.create(visit=visit, key="stature", typed="170", unit="cm", value=170)
    elif change == "setting":
        SettingOverride.objects.create(club=ada.club, key="squad.measure_months", value=1)
    elif change == "delete":
        old.delete()
    else:
        day = DAY + timedelta(days=8)
    after = profiles.profile_of(ada, "squad", day, sees_health=True)
    assert len(counted) == 2
    assert after != before or change == "setting"


def test_a_club_setting_makes_the_whole_squad_update_and_a_refresh_finishes_it(cast):
    squad = Athlete.objects.filter(club=cast.quarry)
    profiles.refresh(profiles.stored_profiles(squad, "squad", DAY, lambda _: True), "squad", DAY, seconds=60)
    assert not any(p.updating for p in profiles.stored_profiles(squad, "squad", DAY, lambda _: True))
    SettingOverride.objects.create(club=cast.quarry, key="squad.quiet_days", value=3)
    stale = profiles.stored_profiles(squad, "squad", DAY, lambda _: True)
    assert all(p.updating for p in stale)
    one_step = profiles.refresh(stale, "squad", DAY, seconds=0.0)
    assert sum(not p.updating for p in one_step) == 1


def test_a_squad_is_read_in_few_queries_whatever_its_size(cast, django_assert_max_num_queries):
    squad = Athlete.objects.filter(club=cast.quarry)
    profiles.refresh(profiles.stored_profiles(squad, "squad", DAY, lambda _: True), "squad", DAY, seconds=60)
    with django_assert_max_num_queries(3):
        profiles.stored_profiles(squad, "squad", DAY, lambda _: True)


def test_a_write_while_computing_leaves_the_profile_old_not_wrong(cast, monkeypatch):
    ada = cast.athletes["ada"]
    real = profiles.KINDS["squad"]

    def interrupted(sources):
        payload = real(sources)
        lift(sources.athlete)
        return payload

    monkeypatch.setitem(profiles.KINDS, "squad", interrupted)
    profiles.profile_of(ada, "squad", DAY, sees_health=True)
    (found,) = profiles.stored_profiles(Athlete.objects.filter(pk=ada.pk), "squad", DAY, lambda _: True)
    assert found.updating


def test_a_changed_core_makes_every_profile_old(cast, monkeypatch):
    ada = cast.athletes["ada"]
    profiles.profile_of(ada, "squad", DAY, sees_health=True)
    monkeypatch.setattr(profiles, "code_version", lambda: "another core")
    (found,) = profiles.stored_profiles(Athlete.objects.filter(pk=ada.pk), "squad", DAY, lambda _: True)
    assert found.updating


def test_who_may_not_see_health_gets_the_same_row_until_there_is_health_and_then_one_of_its_own(cast, counted):
    ada = cast.athletes["ada"]
    lift(ada)
    assert profiles.profile_of(ada, "squad", DAY, sees_health=True)[profiles.HAS_HEALTH] is False
    profiles.profile_of(ada, "squad", DAY, sees_health=False)
    assert counted == [ada.pk]
    TrainingDay.objects.create(athlete=ada, day=DAY, soreness=9)
    for sees_health, sore in [(False, False), (True, True), (False, False)]:
        row = profiles.profile_of(ada, "squad", DAY, sees_health=sees_health)
        assert any(one["code"] == "sore" for one in row["reasons"]) is sore
    assert counted == [ada.pk] * 3
    squad = Athlete.objects.filter(pk=ada.pk)
    for sees_health in (True, False):
        (found,) = profiles.stored_profiles(squad, "squad", DAY, lambda _, sees=sees_health: sees)
        assert found.payload == profiles.profile_of(ada, "squad", DAY, sees_health=sees_health)
