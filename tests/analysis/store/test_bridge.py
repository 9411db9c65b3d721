"""Rows become records with units converted once."""

from datetime import date, timedelta
from math import radians

import pytest

from analysis.core.body.anthropometry import MEASUREMENT_ERROR, VARIABLES
from analysis.store.bridge import body_input, latest_readings, lifter_record, measurement_sds
from analysis.store.log_rows import set_records
from athletes.models import Bar, FirstMeeting, HealthNote, LiftSet, Measurement, StyleRecord, TrainingDay
from athletes.models.choices import MeasureKey
from tests.analysis.measured import back_pain, measure

DAY = date(2026, 4, 1)


def lift(athlete, **fields):
    given = {"day": DAY, "load_typed": "140", "load_unit": "kg", "load_kg": 140.0} | fields
    return LiftSet.objects.create(athlete=athlete, **given)


def test_every_measurement_the_club_takes_is_known_to_the_core():
    assert set(MeasureKey) <= set(VARIABLES)


def test_lengths_become_metres_and_mass_stays_kilograms(cast):
    ada = cast.athletes["ada"]
    measure(ada)
    body = body_input(ada, DAY)
    assert body.measured_m["stature"] == pytest.approx(1.66)
    assert body.measured_m["mass"] == 64.0
    assert body.age == 29.0


def test_the_latest_visit_wins_for_each_measurement_alone(cast):
    ada = cast.athletes["ada"]
    measure(ada, date(2026, 1, 1))
    measure(ada, date(2026, 3, 1), mass=None, stature=166.6)
    body = body_input(ada, DAY)
    assert body.measured_m["stature"] == pytest.approx(1.666)
    assert body.measured_m["arm_span"] == pytest.approx(1.68)


def test_a_visit_after_the_day_asked_for_is_not_known_yet(cast):
    ada = cast.athletes["ada"]
    measure(ada, date(2026, 5, 1))
    assert body_input(ada, DAY).measured_m == {}


def test_repeats_are_averaged_and_their_spread_is_pooled_with_the_usual_error(cast):
    visit = measure(cast.athletes["ada"], mass=None, stature=166.0)
    Measurement.objects.create(visit=visit, key="stature", repeat=2, typed="166.4", unit="cm", value=166.4)
    readings = latest_readings(cast.athletes["ada"], DAY)
    assert readings["stature"].mean_m == pytest.approx(1.662)
    usual = MEASUREMENT_ERROR["stature"]
    pooled = ((4 * usual**2 + 2 * 0.002**2) / 5 / 2) ** 0.5  # worked by hand for two readings 4 mm apart
    assert measurement_sds(readings)["stature"] == pytest.approx(pooled)


def test_one_reading_carries_the_usual_error_of_a_reading(cast):
    measure(cast.athletes["ada"])
    assert body_input(cast.athletes["ada"], DAY).sd_m["arm_span"] == pytest.approx(MEASUREMENT_ERROR["arm_span"])


def test_a_later_body_mass_of_a_training_day_replaces_the_visits(cast):
    ada = cast.athletes["ada"]
    measure(ada)
    TrainingDay.objects.create(athlete=ada, day=date(2026, 3, 20), mass_typed="65", mass_unit="kg", mass_kg=65.0)
    assert body_input(ada, DAY).measured_m["mass"] == 65.0


def test_a_set_keeps_its_tags_with_heights_signed_and_in_metres(cast):
    bar = Bar.objects.create(club=cast.quarry, name="Long one", kind="flexible")
    lift(cast.athletes["ada"], bar=bar, bar_kind="stiff", start="deficit", start_cm=5.0, style="sumo", straps=True)
    (record,) = set_records(LiftSet.objects.all())
    assert record.tags.bar == "flexible"
    assert record.tags.start_offset_m == pytest.approx(-0.05)
    assert record.tags.disc_diameter_m == pytest.approx(0.45)
    assert (record.tags.style, record.tags.straps, record.load_kg) == ("sumo", True, 140.0)


def test_sets_come_oldest_first_in_the_order_they_were_lifted(cast):
    ada = cast.athletes["ada"]
    lift(ada, order=2, load_kg=150.0)
    lift(ada, order=1, load_kg=120.0)
    lift(ada, day=date(2026, 3, 1), load_kg=100.0)
    assert [s.load_kg for s in lifter_record(ada, DAY).sets] == [100.0, 120.0, 150.0]


def test_where_the_bar_stopped_keeps_both_positions(cast):
    lift(cast.athletes["ada"], reps_made=0, result="missed", miss_position="mid-shin", second_position="below-knee")
    assert lifter_record(cast.athletes["ada"], DAY).sets[0].miss_positions == ("mid-shin", "below-knee")


def test_any_back_note_ever_counts_as_noted_but_only_an_open_one_as_pain(cast):
    ada = cast.athletes["ada"]
    back_pain(ada)
    record = lifter_record(ada, DAY)
    assert (record.back_pain_noted, record.pain_noted) == (True, False)


def test_a_note_of_another_site_is_pain_but_not_of_the_back(cast):
    ada = cast.athletes["ada"]
    HealthNote.objects.create(athlete=ada, kind="pain", site="knee", noted_on=date(2026, 3, 30))
    record = lifter_record(ada, DAY)
    assert (record.back_pain_noted, record.pain_noted) == (False, True)
    assert [d.day for d in record.days if d.pain_event] == [date(2026, 3, 30)]


@pytest.mark.parametrize(("noted", "pain"), [(0, True), (1, False)])
def test_a_note_of_tomorrow_is_not_known_today(cast, noted, pain):
    ada, day = cast.athletes["ada"], date(2026, 3, 30)
    HealthNote.objects.create(athlete=ada, kind="pain", site="lower-back", noted_on=day + timedelta(days=noted))
    record = lifter_record(ada, day)
    assert (record.pain_noted, record.back_pain_noted, bool(record.days)) == (pain, pain, pain)


def test_a_set_stopped_for_pain_marks_its_day(cast):
    lift(cast.athletes["ada"], result="stopped-pain", reps_made=0)
    assert [d.pain_event for d in lifter_record(cast.athletes["ada"], DAY).days] == [True]


def test_the_first_meeting_bounds_the_stance(cast):
    ada = cast.athletes["ada"]
    FirstMeeting.objects.create(
        athlete=ada, stance_typed="70", stance_cm=70.0, turnout_deg=30.0, hip_pinch=True, next_meet_on=date(2026, 6, 6)
    )
    StyleRecord.objects.create(athlete=ada, style="sumo", years=2.0)
    record = lifter_record(ada, DAY)
    assert record.comfortable_stance_m == pytest.approx(0.70)
    assert record.comfortable_turnout_rad == pytest.approx(radians(30))
    assert (record.hip_pinch, record.trained_styles, record.next_meet) == (True, ("sumo",), date(2026, 6, 6))
