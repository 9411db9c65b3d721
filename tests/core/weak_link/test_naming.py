"""When a link is named, in which words, and how coaches' reading stands beside it."""

import numpy as np
import pytest

from analysis.core.settings import DEFAULTS
from analysis.core.weak_link.naming import clear
from analysis.core.weak_link.posterior import told_chances
from analysis.core.weak_link.words import chance_words, headline_named, headline_suspect, tenths
from tests.core.logbook import pull
from tests.core.weak_link_log import TODAY, base, chance, lifter, misses, report, squats
from tests.said import said


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (0.97, "likely the back (about 9 in 10)"),
        (0.65, "likely the back (about 6 in 10)"),
        (0.64, "leaning to the back (about 6 in 10)"),
        (0.55, "leaning to the back (about 6 in 10)"),
        (0.54, "the back (about 5 in 10)"),
    ],
)
def test_a_link_is_at_most_likely_and_no_chance_is_told_over_nine_in_ten(value, words):
    assert chance_words("back", value) == words


def test_nothing_surer_than_nine_in_ten_is_told():
    assert tenths(0.999) == tenths(0.9) == "about 9 in 10"


def test_told_chances_are_the_log_odds_times_a_little_more_than_one():
    told = told_chances(np.array([0.7, 0.3, 1e-9, 1e-9]))
    assert np.log(told[0] / told[1]) == pytest.approx(1.14 * np.log(0.7 / 0.3), rel=1e-6)
    assert told.sum() == pytest.approx(1.0)


def test_a_name_is_given_at_the_upper_limit_and_kept_down_to_the_lower_one():
    before, never = (lambda link: link == "back"), (lambda link: False)
    assert clear(0.70, "back", DEFAULTS, never) and not clear(0.69, "back", DEFAULTS, never)
    assert clear(0.55, "back", DEFAULTS, before) and not clear(0.54, "back", DEFAULTS, before)
    assert not clear(0.60, "hips", DEFAULTS, before)


def test_the_kept_name_is_looked_for_only_between_the_limits():
    def asked(link):
        raise AssertionError("the log was read again")

    assert clear(0.9, "back", DEFAULTS, asked) and not clear(0.3, "back", DEFAULTS, asked)


@pytest.mark.parametrize(("number", "begins"), [(1, "One miss: the back is"), (2, "Two misses: the back is")])
def test_one_or_two_misses_name_a_first_suspect_only(number, begins):
    found = report(lifter(base() + misses(number, 197, "mid-shin", "back-rounded")))
    assert found.status == "not-enough" and said(found.headline) == f"{begins} the first suspect."


def test_three_misses_name_and_two_with_two_noted_slow_lifts_do_too():
    slow = [pull(TODAY - 12 - 7 * i, 192, 1, 8.5, slowest_at="mid-shin") for i in range(2)]
    three = report(lifter(base() + misses(3, 197, "mid-shin", "back-rounded")))
    two = report(lifter(base() + slow + misses(2, 197, "mid-shin", "back-rounded")))
    assert three.status == two.status == "named"
    assert said(three.headline) == "Stops at mid-shin: back likely."


def test_slow_lifts_without_any_miss_never_name_a_link():
    slow = [pull(TODAY - 12 - 7 * i, 192, 1, 8.5, slowest_at="mid-shin", what_changed="back-rounded") for i in range(8)]
    found = report(lifter(base() + slow))
    assert found.status == "not-enough" and any("heavy lifts that count" in said(r) for r in found.why_not)


def test_a_chance_that_the_log_has_hardly_raised_names_nothing():
    """The back limits most lifters of this build before any log; that alone is no finding."""
    found = report(
        lifter(base() + misses(3, 197, "mid-shin", "back-rounded")),
        settings=DEFAULTS.with_values({"weak.least_shift": 3.0}),
    )
    assert found.status == "not-enough" and "hardly raised" in said(found.why_not[-1])


def test_coaches_and_model_are_one_statement_that_agrees_or_differs():
    agree = report(lifter(base() + misses(4, 197, "below-knee", "back-rounded")))
    assert "what coaches would say agrees" in said(agree.statement)
    differ = report(lifter(base() + misses(4, 197, "floor", "back-rounded") + squats(170)))
    assert differ.status == "named"
    text = said(differ.statement)
    assert "coaches would suspect the legs, the model differs because of" in text
    assert "Nobody has measured it." in text


def test_an_open_model_lets_coaches_speak_first_and_says_what_would_tell():
    found = report(lifter(base() + misses(4, 197, "floor", "slowed-stopped")))
    assert found.status == "not-enough"
    text = said(found.statement)
    assert text.startswith("What coaches would say: 4 of 4 misses stopped at the floor: the legs first.")
    assert "in 10." in text and "would tell most." in text


def test_lockout_misses_with_a_round_back_are_back_or_start_position():
    found = report(lifter(base() + misses(4, 197, "lockout", "straight-but-round")))
    assert said(found.headline) == "Lockout misses, back still round: back or start position."


def test_headings_stay_within_twelve_words():
    texts = [headline_named("below-knee", "back"), headline_suspect(2, "hips"), headline_named("", "legs")]
    assert max(len(text.split()) for text in texts) <= 12
    assert "hips are" in texts[1]


def test_a_strong_squat_takes_the_legs_away_and_a_weak_one_brings_them():
    rows = base(style="sumo") + misses(3, 197, "floor", "slowed-stopped", style="sumo")
    strong, weak = (report(lifter(rows + squats(kg), trained_styles=("sumo",))) for kg in (190, 110))
    assert chance(weak, "legs") > chance(strong, "legs") + 0.1


@pytest.mark.parametrize(("block", "asked"), [(182, False), (194, True)])
def test_blocks_pulled_much_heavier_than_the_floor_ask_how_the_start_looks(block, asked):
    found = report(lifter(base() + base(block, 6, start="block", start_offset_m=0.20)))
    assert (found.finding("ask-start-position") is not None) == asked
