"""A record without health: what is left out, what stays, and nothing made anew where there is nothing to leave out."""

from datetime import date

from analysis.core.records.lifts import DayRecord, LifterRecord, PullTags, SetRecord

DAY = date(2026, 5, 4)


def lifter(**more):
    return LifterRecord("k", "f", 30.0, "trained", {"stature": 1.7}, **more)


def a_set(**more):
    return SetRecord("s", DAY, 100.0, 0, 3, PullTags(), **more)


def test_nothing_to_leave_out_gives_the_same_record():
    one = lifter(sets=(a_set(result="missed", miss_position="at-knee"),), days=(DayRecord(DAY, sleep_hours=7.0),))
    assert one.without_health() is one


def test_notes_pinch_and_pain_go_and_a_day_that_held_nothing_else():
    one = lifter(
        back_pain_noted=True,
        pain_noted=True,
        hip_pinch=True,
        days=(DayRecord(DAY, 5, "hip", energy=6, pain_event=True), DayRecord(DAY, pain_event=True)),
    ).without_health()  # fmt: skip
    assert (one.back_pain_noted, one.pain_noted, one.hip_pinch) == (False, False, False)
    assert one.days == (DayRecord(DAY, energy=6),)


def test_a_set_that_pain_stopped_counts_as_not_tried_and_says_no_place():
    (one,) = (
        lifter(sets=(a_set(result="stopped-pain", miss_position="at-knee", gave_way="grip"),)).without_health().sets
    )
    assert one == a_set(result="not-tried")
