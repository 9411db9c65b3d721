"""A profile's inputs cannot change without its athlete's revision moving, however they are written."""

from datetime import date

import pytest

from athletes.models import (
    Bar,
    Decision,
    FirstMeeting,
    HealthNote,
    LiftSet,
    Measurement,
    MeasuringVisit,
    Meet,
    MeetEntry,
    Posture,
    Revision,
    SettingOverride,
    StyleRecord,
    TrainingDay,
    Trial,
)

DAY = date(2026, 3, 4)


def number(athlete) -> int:
    return Revision.objects.get(athlete=athlete).number


@pytest.fixture
def ada(cast):
    return cast.athletes["ada"]


WRITES = {
    "a set": lambda a: LiftSet.objects.create(athlete=a, day=DAY, load_typed="100", load_unit="kg", load_kg=100),
    "sets in bulk": lambda a: LiftSet.objects.bulk_create(
        [LiftSet(athlete=a, day=DAY, load_typed="100", load_unit="kg", load_kg=100) for _ in range(3)]
    ),
    "a day": lambda a: TrainingDay.objects.create(athlete=a, day=DAY),
    "a reading": lambda a: Measurement.objects.create(
        visit=MeasuringVisit.objects.create(athlete=a, day=DAY), key="stature", typed="170", unit="cm", value=170
    ),
    "a first meeting": lambda a: FirstMeeting.objects.create(athlete=a),
    "a style record": lambda a: StyleRecord.objects.create(athlete=a, style="sumo"),
    "a posture": lambda a: Posture.objects.create(athlete=a, style="sumo", day=DAY, source="tape", heels_cm=60.0),
    "a health note": lambda a: HealthNote.objects.create(athlete=a, kind="pain", site="knee", noted_on=DAY),
    "a setting of the athlete": lambda a: SettingOverride.objects.create(club=a.club, athlete=a, key="k", value=1),
    "a setting of the club": lambda a: SettingOverride.objects.create(club=a.club, key="k", value=1),
    "a trial": lambda a: Trial.objects.create(
        athlete=a, new_style="sumo", old_style="conventional", started_on=DAY, decide_on=DAY
    ),
    "a decision": lambda a: Decision.objects.create(athlete=a, on=DAY, reasons="because"),
    "a meet entry": lambda a: MeetEntry.objects.create(
        meet=Meet.objects.create(club=a.club, name="m", day=DAY), athlete=a
    ),
    "a bar of the club": lambda a: Bar.objects.create(club=a.club, name="b", kind="stiff"),
    "the athlete's standing": lambda a: type(a).objects.filter(pk=a.pk).update(standing="returning"),
}


@pytest.mark.parametrize("what", WRITES)
def test_writing_moves_the_revision(ada, what):
    before = number(ada)
    WRITES[what](ada)
    assert number(ada) > before


def test_changing_and_deleting_a_set_move_it_too(ada):
    lifted = WRITES["a set"](ada)
    before = number(ada)
    LiftSet.objects.filter(pk=lifted.pk).update(load_kg=110)
    changed = number(ada)
    lifted.delete()
    assert before < changed < number(ada)


def test_another_athletes_revision_stays(cast, ada):
    other = cast.athletes["hugo"]
    before = number(other)
    WRITES["a setting of the club"](ada)
    WRITES["a set"](ada)
    assert number(other) == before


def test_deleting_an_athlete_takes_its_revision_along(ada):
    WRITES["a set"](ada)
    WRITES["a reading"](ada)
    pk = ada.pk
    ada.delete()
    assert not Revision.objects.filter(athlete_id=pk).exists()
