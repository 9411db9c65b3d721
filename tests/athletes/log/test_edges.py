"""The limits of the log at the day, load, effort and number on which they turn."""

from datetime import date, timedelta

import pytest
from django.test import RequestFactory
from django.urls import reverse

from athletes.log.forms import EARLIEST, LiftFilter, LiftForm
from athletes.log.plan_form import PlanLines
from athletes.log.plan_services import counts_for, last_planned_day
from athletes.log.services import BEST_WINDOW, is_heavy, log_set, recent_best_kg
from athletes.log.views import asked_number
from athletes.measuring.stale import is_minor, is_stale
from athletes.models import LiftSet, PlanItem, Trial
from tests.athletes.log.lift_forms import DAY, PLAIN, a_set

ONE = timedelta(days=1)


def day_errors(athlete, day) -> list[str]:
    form = LiftForm({**PLAIN, "day": day.isoformat()}, athlete=athlete)
    return form.errors.get("day", [])


def test_a_note_is_for_today_and_not_for_tomorrow(signed_in, ada):
    today = date.today()
    for day, status in ((today, 200), (today + ONE, 404)):
        assert signed_in("ada").get(reverse("day-note", args=[ada.pk, day.isoformat()])).status_code == status


def test_a_set_may_lie_a_day_ahead_for_clubs_east_of_the_server(ada):
    today = date.today()
    assert not day_errors(ada, today + ONE)
    assert "in the future" in day_errors(ada, today + 2 * ONE)[0]


def test_a_set_may_lie_on_the_earliest_day_and_on_the_day_of_birth(ada):
    ada.born = None
    assert not day_errors(ada, EARLIEST) and "too long ago" in day_errors(ada, EARLIEST - ONE)[0]
    ada.born = date(2000, 5, 5)
    assert not day_errors(ada, ada.born) and "before the athlete was born" in day_errors(ada, ada.born - ONE)[0]


def test_as_many_reps_made_as_tried_is_a_made_set(ada):
    for made, wrong in (("2", True), ("3", False), ("4", True)):
        form = LiftForm({**PLAIN, "reps_made": made}, athlete=ada)
        assert ("reps_made" in form.errors) is wrong


def test_a_filter_of_one_day_is_one(db):
    for until, fits in ((DAY, True), (DAY - ONE, False)):
        assert LiftFilter({"since": DAY.isoformat(), "until": until.isoformat()}).is_valid() is fits


def test_the_first_new_line_of_a_plan_has_the_writers_unit(ada):
    PlanItem.objects.create(athlete=ada, day=DAY, order=1, sets=1, reps=1, load_unit="kg")
    lines = PlanLines(queryset=ada.plan_items.all(), unit="lb", prefix="line", form_kwargs={"athlete": ada})
    assert [form.initial.get("load_unit") for form in lines] == ["kg", "lb", "lb"]


@pytest.mark.parametrize(("load", "counts"), [(89.5, False), (90.0, True), (110.0, True), (110.5, False)])
def test_a_set_within_a_tenth_of_the_planned_load_counts_for_its_line(load, counts):
    assert counts_for(PlanItem(load_kg=100.0, style="sumo"), LiftSet(load_kg=load, style="sumo")) is counts


def test_todays_own_plan_is_not_last_time(ada):
    for day in (DAY, DAY - 7 * ONE):
        PlanItem.objects.create(athlete=ada, day=day, order=1, sets=1, reps=1)
    assert last_planned_day(ada, DAY) == DAY - 7 * ONE


@pytest.mark.parametrize(("begins", "joins"), [(DAY, True), (DAY + ONE, False)])
def test_a_set_joins_a_trial_from_its_first_day(cast, ada, begins, joins):
    trial = Trial.objects.create(athlete=ada, new_style="sumo", started_on=begins, decide_on=begins + 84 * ONE)
    row = LiftSet(day=DAY, load_typed="100", load_unit="kg", load_kg=100.0, style="sumo", in_new_style="yes")
    stored, _ = log_set(cast.cato, ada, row)
    assert (stored.trial == trial) is joins


@pytest.mark.parametrize(
    ("day", "counts"),
    [(DAY, True), (DAY + ONE, False), (DAY - BEST_WINDOW, True), (DAY - BEST_WINDOW - ONE, False)],
)
def test_the_recent_best_is_of_twelve_weeks_up_to_the_set(ada, day, counts):
    a_set(ada, load=200.0, day=day)
    assert recent_best_kg(ada, a_set(ada, load=100.0)) == (200.0 if counts else None)


@pytest.mark.parametrize(
    ("load", "left", "heavy"),
    [(169.5, None, False), (170.0, None, True), (100.0, 2.0, False), (100.0, 1.5, True)],
)
def test_a_set_is_heavy_from_85_per_cent_or_with_one_and_a_half_left(load, left, heavy):
    assert is_heavy(LiftSet(result="made", load_kg=load, rir_low=left), 200.0) is heavy


@pytest.mark.parametrize(("digits", "read"), [(18, int("1" * 18)), (19, 0)])
def test_a_number_in_the_address_has_at_most_eighteen_digits(digits, read):
    """One more digit can pass the largest number that a database keeps."""
    assert asked_number(RequestFactory().get("/", {"heavy": "1" * digits}), "heavy") == read


def test_a_lifter_is_grown_on_the_eighteenth_birthday_and_a_minors_lengths_keep_91_days(ada):
    ada.born = date(2008, 6, 1)
    assert is_minor(ada, date(2026, 5, 31)) and not is_minor(ada, date(2026, 6, 1))
    measured = date(2026, 1, 1)
    assert [is_stale(ada, measured, measured + days * ONE) for days in (91, 92)] == [False, True]
