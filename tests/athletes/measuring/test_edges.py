"""The limits of measuring at the day, length and number of readings on which they turn."""

from datetime import date, timedelta

import pytest
from django.utils import timezone

from athletes.measuring import table
from athletes.measuring.forms import MeasuringForm
from athletes.measuring.posture_forms import PostureForm
from athletes.measuring.repeats import Repeats, repeat_question
from athletes.measuring.services import Measure, VisitReading, latest_lengths
from athletes.measuring.stale import UnreadableStance, parse_stance
from athletes.measuring.table import build_row, spark_points, trend_words
from athletes.models import MeasuringVisit, Posture
from athletes.models.choices import MeasureKey
from tests.analysis.measured import measure

ONE = timedelta(days=1)
DAY = date(2026, 3, 2)


def day_error(cast, athlete, day) -> str:
    data = {"day": day.isoformat(), "length_unit": "cm", "mass_unit": "kg"}
    form = MeasuringForm(athlete, cast.cato, MeasuringVisit(athlete=athlete), True, data)
    return " ".join(form.errors.get("day", []))


def test_a_visit_is_from_1950_on_after_birth_and_not_ahead(cast):
    ada, today = cast.athletes["ada"], timezone.localdate()
    ada.born = None
    assert not day_error(cast, ada, today) and "lies ahead" in day_error(cast, ada, today + ONE)
    assert not day_error(cast, ada, date(1950, 1, 1)) and "too long ago" in day_error(cast, ada, date(1949, 12, 31))
    ada.born = DAY
    assert not day_error(cast, ada, DAY) and "was born" in day_error(cast, ada, DAY - ONE)


def test_a_stance_is_seen_from_1950_on_after_birth_and_not_ahead(cast):
    ada, today = cast.athletes["ada"], timezone.localdate()

    def error(day) -> str:
        typed = {"style": "sumo", "day": day.isoformat(), "source": "tape", "heels_typed": "60", "heels_unit": "cm"}
        form = PostureForm(ada, cast.cato, typed, instance=Posture(athlete=ada))
        return " ".join(form.errors.get("day", []))

    ada.born = None
    assert not error(today) and "lies ahead" in error(today + ONE)
    assert not error(date(1950, 1, 1)) and "too long ago" in error(date(1949, 12, 31))
    ada.born = DAY
    assert not error(DAY) and "too long ago" in error(DAY - ONE)


@pytest.mark.parametrize(("units", "shown"), [(("in", "ft"), "in"), (("in", "in"), "in"), (("in", "cm"), "cm")])
def test_a_visit_in_inches_and_feet_is_corrected_in_inches(cast, units, shown):
    visit = measure(cast.athletes["ada"], stature=170.0, arm_span=172.0, mass=None)
    for row, unit in zip(visit.measurements.order_by("pk"), units, strict=True):
        row.unit = unit
        row.save()
    assert MeasuringForm(visit.athlete, cast.cato, visit, True).initial["length_unit"] == shown


def test_one_reading_has_no_error_two_have_one():
    assert Repeats(MeasureKey.STATURE, (170.0,)).tem is None
    assert Repeats(MeasureKey.STATURE, (170.0, 171.0)).tem == pytest.approx(0.5**0.5)


def test_two_readings_apart_ask_for_a_third_and_three_for_another():
    assert repeat_question(Repeats(MeasureKey.STATURE, (160.0, 170.0))).endswith("a third time.")
    assert repeat_question(Repeats(MeasureKey.STATURE, (160.0, 170.0, 180.0))).endswith("again.")


def test_a_visit_of_today_is_known_today(cast):
    ada = cast.athletes["ada"]
    measure(ada, DAY, stature=171.0)
    assert latest_lengths(ada, DAY) == {"stature": 171.0} and latest_lengths(ada, DAY - ONE) == {}


@pytest.mark.parametrize(("typed", "read"), [("9.9", False), ("10", True), ("150", True), ("150.1", False)])
def test_a_stance_is_from_ten_to_a_hundred_and_fifty_centimetres(typed, read):
    if read:
        assert parse_stance(typed, "cm") == float(typed)
    else:
        with pytest.raises(UnreadableStance, match="outside 10 to 150 cm"):
            parse_stance(typed, "cm")


def over(*means: float) -> Measure:
    """Stature at visits a day apart, newest first."""
    taken = [VisitReading(None, DAY - n * ONE, Repeats(MeasureKey.STATURE, (mean,))) for n, mean in enumerate(means)]
    return Measure(MeasureKey.STATURE, tuple(taken), stale=False)


def test_a_change_is_told_from_the_second_visit_and_from_the_shown_decimal_on(monkeypatch):
    monkeypatch.setattr(table, "SAME", 0.5)  # a number that halves write exactly
    assert trend_words(over(170.0), "cm", "kg") == ""
    assert trend_words(over(170.25, 170.0), "cm", "kg").startswith("the same")
    assert trend_words(over(170.5, 170.0), "cm", "kg").startswith("+0.5")
    assert trend_words(over(169.5, 170.0), "cm", "kg").startswith("−0.5")


def test_two_points_make_a_line():
    assert spark_points([1.0]) == "" and len(spark_points([1.0, 2.0]).split()) == 2


@pytest.mark.parametrize(("limit", "wide"), [(1.0, False), (0.99, True), (1.01, False)])
def test_an_error_is_wide_above_the_limit(monkeypatch, limit, wide):
    readings = Repeats(MeasureKey.STATURE, (160.0, 170.0))
    monkeypatch.setattr(table, "RELATIVE_TEM_LIMIT", limit * readings.relative_tem / 100)
    row = build_row(Measure(MeasureKey.STATURE, (VisitReading(None, DAY, readings),), stale=False), "cm", "kg")
    assert row.tem_wide is wide
