"""Thin, contradictory or painful logs: honest width, no name, no test; and what moved a reading."""

import pytest

from analysis.core.weak_link import leaning
from athletes.schema.units import kg_from_lb
from tests.core.logbook import day, pull
from tests.core.weak_link_log import TODAY, base, chance, lifter, misses, report, squats
from tests.said import said


@pytest.mark.parametrize("sets", [base(weeks=1), squats(130), base(weeks=3) + misses(1, 197, "floor")])
def test_thin_logs_are_wide_and_quiet(sets):
    found = report(lifter(sets))
    assert found.status == "not-enough"
    assert not any(word in said(found.headline) for word in ("likely the", "leaning to"))
    rich = report(lifter(base() + squats(130)))
    width = (found.styles[0].high_kg - found.styles[0].low_kg) / found.styles[0].best_kg
    assert width >= 0.95 * (rich.styles[0].high_kg - rich.styles[0].low_kg) / rich.styles[0].best_kg


def test_contradicting_misses_are_not_named():
    rows = misses(3, 197, "floor", "slowed-stopped") + misses(3, 196, "floor", "back-rounded", every=21)
    found = report(lifter(base() + rows))
    assert found.status == "not-enough"
    assert any("contradict" in said(reason) for reason in found.why_not)


def test_misses_only_where_the_model_rarely_stops_a_bar_are_said_and_name_nothing():
    found = report(lifter(base() + misses(5, 197, "lockout")))
    assert found.status == "not-enough"
    assert "the model rarely stops a bar there" in said(found.finding("rarely-there").text)
    assert report(lifter(base() + misses(5, 197, "mid-shin"))).finding("rarely-there") is None


def test_a_leaning_says_what_it_is_worth():
    assert "starting beliefs" in leaning(False, 0)
    assert "a leaning, not a finding" in leaning(False, 6)


def test_no_text_ever_asks_for_more_misses():
    for sets in ([], base(weeks=1), base() + misses(2, 197, "floor")):
        found = report(lifter(sets))
        texts = [
            said(found.headline),
            *map(said, found.why_not),
            *map(said, found.would_change),
            *(said(f.text) for f in found.findings),
        ]
        assert not any("more misses" in t or "miss more" in t or "fail" in t.lower() for t in texts)


@pytest.mark.parametrize(
    "more",
    [
        {"standing": "under-18", "age": 16.0},
        {"pain_noted": True},
        {"next_meet": day(TODAY + 9)},
        {"standing": "returning"},
    ],
)
def test_no_test_is_offered_where_it_could_hurt(more):
    found = report(lifter(base(), **more))
    assert found.next_test is None and found.other_tests == () and said(found.no_test_reason)


def test_a_test_waits_72_hours_after_a_heavy_pull_and_is_a_triple_below_the_best():
    found = report(lifter([*base(), pull(TODAY - 1, 192, 1, 9)]))
    test = found.next_test
    assert test.not_before == day(TODAY + 2)
    assert test.reps == 3 and test.rpe <= 8 and test.low_kg < test.high_kg
    assert test.high_kg < 0.9 * 1.35 * found.styles[0].best_kg


def test_what_moved_the_reading_is_listed_with_its_rows_and_reverses_when_left_out():
    rows = misses(4, 197, "mid-shin", "back-rounded")
    found = report(lifter(base() + rows))
    first = next(i for i in found.influences if set(i.set_keys) <= {r.key for r in rows})
    assert first.shift > 0
    fewer = report(lifter(base() + [r for r in rows if r.key not in first.set_keys]))
    assert chance(fewer, "back") == pytest.approx(first.chance_without, abs=0.05)


def test_pounds_and_kilograms_give_the_same_reading():
    kilos = report(lifter(base(170) + misses(4, 197, "floor", "slowed-stopped")))
    pounds = report(
        lifter(base(kg_from_lb(170 / 0.45359237)) + misses(4, kg_from_lb(197 / 0.45359237), "floor", "slowed-stopped"))
    )
    assert pounds.styles[0].best_kg == pytest.approx(kilos.styles[0].best_kg, rel=1e-6)


def test_an_impossible_body_is_said_and_nothing_is_lost():
    found = report(lifter(base(), measured={"stature": 3.9}))
    assert found.status == "not-enough" and "stature" in said(found.headline)
    assert len(found.bests) == 1
