"""Odds between styles: what weighs more, what is never claimed, and that build alone decides nothing."""

from datetime import date, timedelta

import pytest

from analysis.core.records.lifts import LifterRecord, PullTags, SetRecord
from analysis.core.settings import DEFAULTS
from analysis.core.styles.comparison import compare_styles
from analysis.core.styles.odds import StyleEvidence, chances, difference, style_odds, usual_weights
from tests.said import said

TODAY = date(2026, 6, 15)


def pulls(style, kg, days, bar="stiff"):
    tags = PullTags(style=style, bar=bar, grip="mixed")
    return [
        SetRecord(f"{style}{bar}{i}", TODAY - timedelta(days=4 * i + 1), kg, 3, 3, tags, rir_low=2, rir_high=2)
        for i in range(days)
    ]


def lifter(*sets, **more):
    base = {
        "key": "x",
        "sex": "f",
        "age": 30.0,
        "standing": "trained",
        "measurements_m": {"stature": 1.65, "sitting_height": 0.868},
    }
    return LifterRecord(**{**base, **more}, sets=tuple(sorted(sets, key=lambda s: s.day)))


def test_with_nothing_known_both_ends_are_equally_likely():
    better, equal, worse = chances(StyleEvidence("sumo", "conventional"), usual_weights())
    assert better == pytest.approx(worse) and better + equal + worse == pytest.approx(1.0)


def test_build_explains_about_nine_percent_of_the_variance_and_decides_nothing():
    """Cholewa et al. 2019: r = 0.297 between sitting height over stature and the sumo to conventional ratio."""
    long_trunk = StyleEvidence("sumo", "conventional", sitting_share=0.5262 + 2 * 0.0141, sex="f")
    odds = style_odds(long_trunk)
    assert 0.3 < odds.better < 0.85
    _, plain = difference(StyleEvidence("sumo", "conventional"), usual_weights())
    assert plain**2 / usual_weights().population_sd ** 2 == pytest.approx(1 - 0.30**2)


def test_a_trial_outweighs_the_log_and_the_log_outweighs_build():
    build = StyleEvidence("sumo", "conventional", sitting_share=0.56, sex="f")
    log_against = StyleEvidence("sumo", "conventional", sitting_share=0.56, sex="f", log_difference=-0.06, log_sd=0.03)
    trial_for = StyleEvidence(
        "sumo", "conventional", sitting_share=0.56, sex="f", log_difference=-0.06, log_sd=0.03,
        trial_difference=0.06, trial_sd=0.03,
    )  # fmt: skip
    assert style_odds(build).better > 0.5 > style_odds(log_against).better
    assert style_odds(trial_for).better > 0.6


def test_an_untrained_style_at_eighty_five_percent_is_no_rejection():
    first = StyleEvidence("sumo", "conventional", log_difference=-0.16, log_sd=0.04, trained=False)
    assert style_odds(first).worse < 0.55
    trained = StyleEvidence("sumo", "conventional", log_difference=-0.16, log_sd=0.04, trained=True)
    assert style_odds(trained).worse > 0.9


def test_the_span_holds_the_chance_and_is_wider_when_less_is_known():
    thin, much = (
        style_odds(StyleEvidence("sumo", "conventional", log_difference=0.03, log_sd=sd)) for sd in (0.1, 0.02)
    )
    for odds in (thin, much):
        assert odds.low <= odds.better <= odds.high


def test_unlike_bars_are_said_and_not_compared():
    found = compare_styles(lifter(*pulls("conventional", 140, 20), *pulls("sumo", 150, 20, bar="flexible")), TODAY)
    assert all("logged" not in " ".join(o.rests_on) for o in found.odds)
    assert any("Not compared" in said(r.text) for r in found.reasons)


def test_like_bests_in_both_styles_give_odds_with_their_rows():
    found = compare_styles(lifter(*pulls("conventional", 140, 20), *pulls("sumo", 150, 20)), TODAY)
    (sumo,) = [o for o in found.odds if o.style == "sumo" or o.main == "sumo"]
    assert "logged bests in both styles" in sumo.rests_on
    assert any(r.set_keys for r in found.reasons if r.kind == "log")
    assert "in 10" in found.headline


@pytest.mark.parametrize("standing", ["beginner", "returning", "under-18"])
def test_beginners_returning_lifters_and_minors_get_reasons_and_no_odds(standing):
    found = compare_styles(lifter(*pulls("conventional", 100, 20), *pulls("sumo", 110, 20), standing=standing), TODAY)
    assert found.odds == () and "in 10" not in found.headline


def test_the_house_rule_is_off_by_default_and_never_for_minors():
    on = DEFAULTS.with_values({"house.sumo_first": 1})
    kinds = lambda person, settings: {r.kind for r in compare_styles(person, TODAY, settings).reasons}  # noqa: E731
    assert "house" not in kinds(lifter(), DEFAULTS)
    assert "house" in kinds(lifter(), on)
    assert "house" not in kinds(lifter(age=15.0, standing="under-18"), on)


def test_an_empty_log_says_so():
    found = compare_styles(lifter(), TODAY)
    assert "Nothing is logged" in found.headline and found.would_change
