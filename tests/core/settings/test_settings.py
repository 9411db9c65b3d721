"""Named settings: every one is bounded, explained and sourced; clubs and athletes override them."""

import pytest

from analysis.core.records.plain import UnknownKey
from analysis.core.settings import COMMON_PRACTICE, DEFAULTS, GROUPS, REGISTRY, SettingOutOfRange, layered


@pytest.mark.parametrize("setting", REGISTRY.values(), ids=lambda s: s.key)
def test_every_setting_is_bounded_explained_and_sourced(setting):
    assert setting.low <= setting.default <= setting.high
    assert setting.low < setting.high
    assert setting.unit and setting.source
    assert setting.help.endswith(".") and len(setting.help) > 20
    assert setting.unit != "choice" or len(setting.choices) == setting.high + 1


def test_no_key_is_given_twice():
    keys = [s.key for _, group in GROUPS for s in group]
    assert len(keys) == len(set(keys)) == len(REGISTRY)


def test_the_athletes_value_wins_over_the_clubs_and_the_club_over_the_default():
    settings = layered({"trial.weeks": 16, "grip.limit_gain": 0.06}, {"trial.weeks": 10})
    assert settings["trial.weeks"] == 10
    assert settings["grip.limit_gain"] == 0.06
    assert settings["trial.weeks_least"] == DEFAULTS["trial.weeks_least"]


def test_a_value_outside_its_limits_is_refused_with_the_limits_named():
    with pytest.raises(SettingOutOfRange, match="2 to 52 weeks"):
        layered({"trial.weeks_least": 900})
    with pytest.raises(SettingOutOfRange):
        layered({"trial.weeks_least": float("nan")})


def test_an_unknown_setting_is_refused_by_name():
    with pytest.raises(UnknownKey, match="moon"):
        layered({"moon.phase": 1})
    with pytest.raises(UnknownKey):
        DEFAULTS["moon.phase"]


def test_the_numbers_of_the_trade_carry_the_mark_and_a_measured_one_its_study():
    assert REGISTRY["load.window_sumo_low"].source == COMMON_PRACTICE
    assert REGISTRY["load.window_sumo_low"].is_common_practice
    assert "Ruf" in REGISTRY["best.day_sd"].source
    assert not REGISTRY["best.day_sd"].is_common_practice


def test_the_house_rule_is_off_until_switched_on():
    assert not DEFAULTS.on("house.sumo_first")
    assert layered({"house.sumo_first": 1}).on("house.sumo_first")
