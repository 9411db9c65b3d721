"""Typed loads, heights and efforts: one canonical value, messages that say what and where, no drift."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from athletes.schema import units
from athletes.units import loads
from athletes.units.efforts import parse_effort
from athletes.units.loads import UnreadableAmount, parse_height, parse_load, parse_mass, shown


@pytest.mark.parametrize(
    ("typed", "unit", "kg", "kept"),
    [
        ("182.5", "kg", 182.5, ("182.5", "kg")),
        ("182,5", "kg", 182.5, ("182,5", "kg")),
        ("405", "lb", 183.70490985, ("405", "lb")),
        ("405 lb", "kg", 183.70490985, ("405", "lb")),
        ("405lbs", "kg", 183.70490985, ("405", "lb")),
        (" 0 ", "kg", 0.0, ("0", "kg")),
        ("180 kg.", "lb", 180.0, ("180", "kg")),
    ],
)
def test_a_load_is_read_with_comma_or_point_and_its_own_unit(typed, unit, kg, kept):
    load = parse_load(typed, unit)
    assert load.value == pytest.approx(kg, abs=1e-9)
    assert (load.typed, load.unit) == kept


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("-200", "not with a minus"),
        ("80%", "share of a best"),
        ("heavy", "unit “heavy”"),
        ("1.000,5", "not a number"),
        ("180 stone", "unit “stone”"),
        ("1600 lb", "more than 700 kg"),
        ("701", "more than 700 kg"),
        ("", "not a number"),
        ("１８０", "not a number"),
    ],
)
def test_what_is_no_load_is_refused_with_the_reason(typed, says):
    with pytest.raises(UnreadableAmount, match=says):
        parse_load(typed, "kg")


def test_the_factors_are_those_of_the_1959_agreement_and_of_the_core():
    assert loads.KG_PER_LB == units.KG_PER_LB == 0.45359237
    assert loads.CM_PER_INCH == units.CM_PER_INCH == 2.54


def test_a_body_mass_and_a_start_height_have_their_own_ends():
    assert parse_mass("165 lb", "kg").value == pytest.approx(74.84274105)
    assert parse_height('4"', "cm").value == pytest.approx(10.16)
    for parse, typed in ((parse_mass, "15"), (parse_mass, "400"), (parse_height, "0"), (parse_height, "80")):
        with pytest.raises(UnreadableAmount, match="outside"):
            parse(typed, "cm" if parse is parse_height else "kg")


@given(st.decimals(0, 700, places=2), st.sampled_from(["kg", "lb"]))
def test_reading_the_kept_text_again_gives_the_very_same_value(number, unit):
    first = parse_load(str(number), unit)
    again = parse_load(first.typed, first.unit)
    assert (again.typed, again.unit, again.value) == (first.typed, first.unit, first.value)


@given(st.text(max_size=24), st.sampled_from(["kg", "lb"]))
def test_any_text_is_read_or_refused_in_words(text, unit):
    for parse in (parse_load, parse_mass, parse_height):
        try:
            amount = parse(text, "cm" if parse is parse_height else unit)
        except UnreadableAmount as problem:
            assert str(problem)
        else:
            assert amount.value >= 0
    try:
        low, high = parse_effort(text)
    except UnreadableAmount as problem:
        assert str(problem).startswith("Effort")
    else:
        assert (low is None) == (high is None)
        assert low is None or 0 <= low <= high <= 10


@pytest.mark.parametrize(
    ("typed", "rir"),
    [
        ("", (None, None)),
        ("8", (2, 2)),
        ("@8.5", (1.5, 1.5)),
        ("8,5", (1.5, 1.5)),
        ("RPE 8-9", (1, 2)),
        ("8–9", (1, 2)),
        ("RIR 1-2", (1, 2)),
        ("1-2 RIR", (1, 2)),
        ("2rir", (2, 2)),
        ("10", (0, 0)),
        ("RIR 0", (0, 0)),
    ],
)
def test_an_effort_is_a_range_of_reps_in_reserve(typed, rir):
    assert parse_effort(typed) == rir


@pytest.mark.parametrize("typed", ["11", "hard", "0", "RPE RIR 2", "8-", "RIR 12", "-8"])
def test_what_is_no_effort_is_refused(typed):
    with pytest.raises(UnreadableAmount, match="Effort"):
        parse_effort(typed)


def test_a_value_is_shown_in_either_unit_without_false_digits():
    assert shown(182.5, "kg") == "182.5"
    assert shown(183.70490985, "lb") == "405"
    assert shown(1.25, "kg") == "1.25"
