"""The log read as plain values says what its rows say, and a changed row is never read from memory."""

from dataclasses import asdict
from datetime import date

import pytest

from analysis.store.bridge import lifter_logs, lifter_record
from analysis.store.log_rows import READ, log_of, logs_of, set_records
from athletes.models import Bar, HealthNote, LiftSet, TrainingDay, Trial

DAY = date(2026, 4, 1)
FULL = {
    "load_typed": "312", "load_unit": "lb", "load_kg": 141.52, "reps_made": 0, "reps_tried": 2, "rir_low": 0.5,
    "rir_high": 1.5, "lift": "deadlift", "style": "wide-sumo", "shape": "rounded-before", "bar_kind": "stiff",
    "start": "deficit", "start_cm": 5.0, "disc_diameter_cm": 44.0, "grip": "hook", "straps": True, "belt": True,
    "suit": True, "dead_stop": False, "paused": True, "depth_verified": True, "result": "missed",
    "miss_position": "mid-shin", "second_position": "below-knee", "gave_way": "back-rounded", "rule_reason": "",
    "slowest_at": "lockout", "what_changed": "hips-shot-up", "pull_seconds": 3.25, "in_new_style": "partly",
    "is_test": True,
}  # fmt: skip


@pytest.fixture
def ada(cast):
    READ.clear()
    return cast.athletes["ada"]


def lift(athlete, **more):
    return LiftSet.objects.create(
        athlete=athlete, **{"day": DAY, "load_typed": "100", "load_unit": "kg", "load_kg": 100.0, **more}
    )


def read(athlete):
    return log_of(athlete.pk, athlete.sets.all())


def test_every_field_arrives_as_its_own_kind_of_value(ada):
    trial = Trial.objects.create(
        athlete=ada, new_style="sumo", started_on=DAY, weeks=8, pulls_a_week=1, decide_on=DAY, no_baseline_reason="new"
    )
    row = lift(ada, trial=trial, **FULL)
    (found,) = read(ada)
    tags = asdict(found.tags)
    assert (found.key, found.day, found.load_kg) == (str(row.uid), DAY, 141.52)
    assert (found.reps_made, found.reps_tried, found.rir_low, found.rir_high) == (0, 2, 0.5, 1.5)
    assert (found.result, found.miss_positions) == ("missed", ("mid-shin", "below-knee"))
    assert (found.gave_way, found.slowest_at, found.what_changed) == ("back-rounded", "lockout", "hips-shot-up")
    assert (found.pull_seconds, found.in_new_style, found.trial_key, found.is_test) == (
        3.25,
        "partly",
        str(trial.pk),
        True,
    )
    assert {tags.pop(name) for name in ("straps", "belt", "suit", "paused", "depth_verified")} == {True}
    assert tags.pop("start_offset_m") == pytest.approx(-0.05) and tags.pop("disc_diameter_m") == pytest.approx(0.44)
    assert tags == {
        "lift": "deadlift", "style": "wide-sumo", "shape": "rounded-before", "bar": "stiff", "start": "deficit",
        "grip": "hook", "dead_stop": False,
    }  # fmt: skip
    assert isinstance(found.is_test, bool) and isinstance(found.day, date) and isinstance(found.tags.straps, bool)


def test_what_is_not_noted_arrives_as_such(ada):
    lift(ada)
    (found,) = read(ada)
    assert (found.rir_low, found.pull_seconds, found.miss_positions, found.trial_key) == (None, None, (), "")
    assert (found.tags.bar, found.tags.start_offset_m, found.is_test) == ("unknown", 0.0, False)


def test_rows_that_are_the_same_come_back_as_the_same_records(ada):
    lift(ada), lift(ada, order=1, load_kg=120.0)
    first = read(ada)
    lift(ada, order=2, load_kg=140.0)
    again = read(ada)
    assert [one.load_kg for one in again] == [100.0, 120.0, 140.0]
    assert all(a is b for a, b in zip(first, again, strict=False))


@pytest.mark.parametrize(
    "change", [{"load_kg": 101.0}, {"result": "missed"}, {"straps": True}, {"day": date(2026, 4, 2)}]
)
def test_a_row_changed_without_any_model_seeing_it_is_a_new_record(ada, change):
    row = lift(ada)
    (before,) = read(ada)
    LiftSet.objects.filter(pk=row.pk).update(**change)
    (after,) = read(ada)
    assert after != before and after.key == before.key


def test_another_kind_of_a_named_bar_reaches_the_sets_lifted_with_it(ada, cast):
    bar = Bar.objects.create(club=cast.quarry, name="Long one", kind="stiff")
    lift(ada, bar=bar, bar_kind="stiff")
    assert read(ada)[0].tags.bar == "stiff"
    Bar.objects.update(kind="flexible")
    assert read(ada)[0].tags.bar == "flexible"


def test_a_deleted_set_is_gone(ada):
    lift(ada), lift(ada, order=1, load_kg=120.0)
    read(ada)
    LiftSet.objects.filter(load_kg=100.0).delete()
    assert [one.load_kg for one in read(ada)] == [120.0]


def test_within_a_day_the_order_is_that_of_lifting_and_days_go_forward(ada, cast):
    for day, order, kg in ((3, 1, 130.0), (1, 2, 110.0), (3, 0, 120.0), (1, 1, 100.0)):
        lift(ada, day=date(2026, 4, day), order=order, load_kg=kg)
    lift(cast.athletes["petra"], load_kg=90.0)
    assert [one.load_kg for one in read(ada)] == [100.0, 110.0, 120.0, 130.0]
    assert [one.load_kg for one in set_records(ada.sets.all())] == [100.0, 110.0, 120.0, 130.0]
    several = logs_of(LiftSet.objects.all())
    assert several == {ada.pk: read(ada), cast.athletes["petra"].pk: read(cast.athletes["petra"])}


def test_logs_of_several_lifters_are_those_of_each(ada, cast):
    petra, ivo = cast.athletes["petra"], cast.athletes["ivo"]
    lift(ada), lift(petra, result="stopped-pain", reps_made=0)
    TrainingDay.objects.create(athlete=ada, day=DAY, soreness=3)
    HealthNote.objects.create(athlete=ivo, kind="pain", site="knee", noted_on=date(2026, 3, 30))
    together = lifter_logs([ada, petra, ivo], DAY)
    for one in (ada, petra, ivo):
        alone = lifter_record(one, DAY)
        for name in ("key", "sex", "age", "standing", "sets", "days", "pain_noted", "back_pain_noted"):
            assert getattr(together[one.pk], name) == getattr(alone, name), (one, name)
