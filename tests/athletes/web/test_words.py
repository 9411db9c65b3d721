"""Names of styles and bars as people say them, and loads of a meet."""

from types import SimpleNamespace

from athletes.web.unit_tags import bar_names, meet_load, style_name

POUNDS, KILOGRAMS = SimpleNamespace(weight_unit="lb"), SimpleNamespace(weight_unit="kg")


def test_slugs_are_never_shown():
    assert style_name("wide-sumo") == "wide sumo"
    assert style_name("") == ""
    assert bar_names(["unknown", "flexible"]) == "not noted, flexible deadlift bar, 27 mm"


def test_a_meet_is_loaded_in_kilograms_with_pounds_beside():
    assert meet_load(222.5, KILOGRAMS) == "222.5 kg"
    assert meet_load(222.5, POUNDS) == "222.5 kg (491 lb)"
