"""Entries of how a lifter stands become a posture a style: the newest of each thing, and when it has a say."""

import math
from datetime import date, timedelta

import pytest

from analysis.core.pull.lifter_postures import (
    lifter_postures,
    postures_of,
    seen_in,
    settled_postures,
)
from analysis.core.pull.own_posture import taped
from analysis.core.records.bodies import BodyInput
from analysis.core.records.lifts import LifterRecord, PullTags, SetRecord
from analysis.core.records.postures import Known
from athletes.schema.postures import PostureNote
from athletes.schema.vocabulary import Knees

DAY = date(2026, 3, 1)
LATER = DAY + timedelta(days=30)
MAN = BodyInput("m", {"stature": 1.78, "mass": 85.0})
TAPE = PostureNote("sumo", DAY, "tape", heels_m=0.58, turnout_deg=40.0)


def sets(style: str, days: int) -> tuple[SetRecord, ...]:
    tags = PullTags(style=style)
    found = (SetRecord(f"{style}{n}", DAY + timedelta(days=n // 2), 150.0, 3, 3, tags) for n in range(2 * days))
    return tuple(found)


def lifter(*notes: PostureNote, log: tuple[SetRecord, ...] = ()) -> LifterRecord:
    return LifterRecord("a", "m", 30.0, "trained", {"stature": 1.78, "mass": 85.0}, posture_notes=notes, sets=log)


def test_a_tape_entry_alone_gives_a_posture():
    found = lifter_postures(lifter(TAPE)).own
    assert set(found) == {"sumo"}
    own = found["sumo"]
    assert 0.63 < own.value("stance_m") < 0.66 and math.degrees(own.value("turnout_rad")) == pytest.approx(40, abs=0.5)
    assert (own.known, own.source, own.day) == (Known.TAPE, "by tape", DAY) and taped(own.covariance)


def test_the_newest_of_each_thing_counts():
    newer = PostureNote("sumo", LATER, "eye", heels_m=0.66, knees="early")
    seen, source = seen_in([TAPE, newer])
    assert (seen.heels_m, math.degrees(seen.turnout_rad), seen.knees) == (0.66, pytest.approx(40.0), Knees.EARLY)
    assert seen.by_eye == {"heels"} and source == "by eye, by tape"
    own = lifter_postures(lifter(TAPE, newer)).own["sumo"]
    assert own.day == LATER and not taped(own.covariance)


@pytest.mark.parametrize("lacks", [{"heels_m": None}, {"turnout_deg": None}, {"source": "eye"}, {"source": "still"}])
def test_stance_and_toes_are_taped_only_when_both_are(lacks):
    note = PostureNote(**{"style": "sumo", "day": DAY, "source": "tape", "heels_m": 0.58, "turnout_deg": 40.0, **lacks})
    assert not taped(postures_of(MAN, (note,)).own["sumo"].covariance)


def test_a_stance_this_body_cannot_take_is_told_and_leaves_the_other_style_alone():
    wide = PostureNote("wide-sumo", DAY, "tape", heels_m=1.39, turnout_deg=50.0)
    found = lifter_postures(lifter(TAPE, wide))
    assert set(found.own) == {"sumo"} and set(found.refused) == {"wide-sumo"} and found.refused["wide-sumo"]


def test_without_a_stature_or_an_entry_there_is_no_posture():
    assert not postures_of(BodyInput("m", {}), (TAPE,)).own
    assert not lifter_postures(lifter()).own


@pytest.mark.parametrize(("days", "has_a_say"), [(7, False), (8, True)])
def test_a_style_has_a_say_from_eight_days_of_it(days, has_a_say):
    """Two sets a day are one day, and conventional days are no days of sumo."""
    log = sets("sumo", days) + sets("conventional", 20)
    assert ("sumo" in settled_postures(lifter(TAPE, log=log))) is has_a_say


def test_a_posture_that_does_not_meet_what_was_seen_has_no_say(monkeypatch):
    log = sets("sumo", 20)
    assert settled_postures(lifter(TAPE, log=log))
    monkeypatch.setattr("analysis.core.pull.lifter_postures.misfits", lambda *_: {"heels": 3.4})
    other = lifter(PostureNote("sumo", DAY, "tape", heels_m=0.57, turnout_deg=40.0), log=log)
    assert lifter_postures(other).odd == {"sumo"} and not settled_postures(other)
