"""How a best moved, and the heading of the log by what the numbers say."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from analysis.core.estimates.running_best import running_bests
from analysis.core.records.training import BestSeries, Movement
from analysis.core.training.movement import IDLE_DAYS, STOPPED_DAYS, in_order, log_heading, movement_of, word_of
from analysis.text.log import TEXTS
from analysis.text.say import Reader, say
from tests.core.logbook import START, pull

DAY = date(2026, 11, 27)


def series(style="sumo", chance=0.5, then=120.0, now=130.0, idle=3, sessions=9, moved=True):
    movement = Movement(date(2026, 9, 4), then, now, chance) if moved else None
    levels = ((now,), (now - 5,), (now + 5,))
    return BestSeries(style, style, (DAY,), *levels, (), sessions, 20, 4, (), movement, idle, (), ())


def said(*given, pulls=30, last=DAY):
    heading, ground = log_heading(given, pulls, last, DAY)
    return say(heading, Reader()), say(ground, Reader())


def test_nothing_logged_and_nothing_heavy_enough_are_said():
    assert said(last=None) == ("Nothing logged", "Type tonight's sets or bring in an old log.")
    heading, ground = said(pulls=12)
    assert heading == "Pulls logged: 12, none yet heavy enough for a best" and "RPE 7" in ground


@pytest.mark.parametrize(
    "chance,words",
    [
        (0.85, "Sumo up 10 kg since September"),
        (0.849, "Sumo level since September"),
        (0.151, "Sumo level since September"),
        (0.15, "Sumo down 10 kg since September"),
    ],
)
def test_up_and_down_are_said_from_85_in_100(chance, words):
    assert said(series(chance=chance))[0] == words


def test_two_styles_make_one_heading_the_one_that_moved_first():
    still = series("conventional", sessions=30)
    heading, ground = said(still, series(chance=0.95))
    assert heading == "Sumo up 10 kg since September, conventional level"
    assert ground == "Now 125–135 kg. Conventional stands at 125–135 kg."
    assert [one.style for one in in_order([series(chance=0.95, idle=IDLE_DAYS), still])] == ["conventional", "sumo"]


def test_a_style_without_a_counted_set_for_eight_weeks_is_not_said_to_move():
    assert (
        word_of(series(chance=0.99, idle=IDLE_DAYS)) == "idle"
        and word_of(series(chance=0.99, idle=IDLE_DAYS - 1)) == "up"
    )
    heading, _ = said(series("conventional", chance=0.9), series(idle=60))
    assert heading == "Conventional up 10 kg since September, nothing heavy in sumo"


def test_a_log_that_stopped_says_for_how_long():
    assert said(series(), last=DAY - timedelta(days=STOPPED_DAYS)) == (
        "No pull for 6 weeks",
        "Sumo stood at 125–135 kg then.",
    )
    assert said(series(), last=DAY - timedelta(days=STOPPED_DAYS - 1))[0] == "Sumo level since September"


def test_a_change_is_that_of_the_shown_whole_kilograms():
    assert "up 11 kg" in said(series(chance=0.9, then=119.6, now=130.6))[0]


def test_every_heading_has_at_most_twelve_words_with_the_longest_styles():
    values = {"style": "wide sumo", "other": "conventional", "change": "12 kg", "month": "September", "days": "3 days"}
    values |= {"pulls": "120", "weeks": "12 weeks", "before": "85", "limit": "1 kg", "gain": "2–4 kg", "load": "130 kg"}
    values |= {"meet": "Quarry and Harbour Open", "opener": "130 kg", "best": "138–149 kg", "lifters": "12"}
    values |= {"day": "5 December", "now": "130–145 kg", "then": "130–145 kg"}
    for code, words in TEXTS.items():
        assert len(words.format_map(values).split()) <= (22 if "ground" in code else 12), code


def logged(kg_by_day):
    sets = [pull((DAY - START).days - ago, kg, 1, 10, style="sumo") for ago, kg in kg_by_day]
    (best,) = running_bests(sets, DAY).values()
    return movement_of(best)


def test_a_log_of_rising_singles_is_up_and_one_of_equal_singles_is_not():
    rising = logged([(100 - 5 * i, 100 + 2 * i) for i in range(20)])
    level = logged([(100 - 5 * i, 120 + 2 * (i % 2)) for i in range(20)])
    assert rising.chance_up > 0.95 and rising.now_kg > rising.then_kg + 20
    assert 0.2 < level.chance_up < 0.8 and rising.since == DAY - timedelta(weeks=12)


def test_two_weeks_of_a_style_are_too_new_to_compare():
    assert logged([(13, 100), (9, 103), (2, 105)]) is None
    assert logged([(14, 100), (9, 103), (2, 105)]).since == DAY - timedelta(days=14)
    assert word_of(replace(series(), movement=None)) == "new"
