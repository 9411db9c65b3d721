"""Computed sentences follow the reader: weights in their unit, names of styles and bars as people say them."""

from types import SimpleNamespace

import pytest

from athletes.web.unit_tags import meet_load
from athletes.web.word_tags import bar_names, style_name, told

POUNDS, KILOGRAMS = SimpleNamespace(weight_unit="lb"), SimpleNamespace(weight_unit="kg")


@pytest.mark.parametrize(
    ("text", "pounds"),
    [
        ("rounded from 100 kg on", "rounded from 220 lb on"),
        ("181 to 190 kg (8 in 10)", "399 to 419 lb (8 in 10)"),
        ("175–182.5 kg", "386–402 lb"),
        ("straps add +10 kg", "straps add +22 lb"),
        ("between -2 to 6 kg", "between -4 to 13 lb"),
        ("140 kg x 3, then 150 kg", "309 lb x 3, then 331 lb"),
        ("20 kg/m² and 5 cm and 3 sets", "20 kg/m² and 5 cm and 3 sets"),
        ("kg as typed", "kg as typed"),
    ],
)
def test_weights_follow_the_reader(text, pounds):
    assert told(text, POUNDS) == pounds
    assert told(text, KILOGRAMS) == text


def test_a_load_typed_in_pounds_is_rounded_as_bars_are_loaded():
    assert told("last pull 185.973 kg", KILOGRAMS) == "last pull 186 kg"


def test_percent_signs_stand_apart_from_their_number():
    assert told("81% of the best", KILOGRAMS) == "81\u00a0% of the best"


def test_slugs_are_never_shown():
    assert style_name("wide-sumo") == "wide sumo"
    assert style_name("") == ""
    assert bar_names(["unknown", "flexible"]) == "not noted, flexible deadlift bar, 27 mm"


def test_a_meet_is_loaded_in_kilograms_with_pounds_beside():
    assert meet_load(222.5, KILOGRAMS) == "222.5 kg"
    assert meet_load(222.5, POUNDS) == "222.5 kg (491 lb)"
