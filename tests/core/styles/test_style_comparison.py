"""What stands behind each style: logged bests on one footing with their rows, the house rule, nothing made up."""

from datetime import date, timedelta

from analysis.core.records.lifts import LifterRecord, PullTags, SetRecord
from analysis.core.settings import DEFAULTS
from analysis.core.styles.comparison import compare_styles
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


def test_unlike_bars_are_said_and_not_compared():
    found = compare_styles(lifter(*pulls("conventional", 140, 20), *pulls("sumo", 150, 20, bar="flexible")), TODAY)
    assert any("Not compared" in said(r.text) for r in found.reasons)


def test_like_bests_in_both_styles_stand_with_their_rows():
    found = compare_styles(lifter(*pulls("conventional", 140, 20), *pulls("sumo", 150, 20)), TODAY)
    assert {r.style for r in found.reasons if r.kind == "log"} == {"conventional", "sumo"}
    assert all(r.set_keys for r in found.reasons if r.kind == "log")
    assert not any("Not compared" in said(r.text) for r in found.reasons)


def test_the_house_rule_is_off_by_default_and_never_for_minors():
    on = DEFAULTS.with_values({"house.sumo_first": 1})
    kinds = lambda person, settings: {r.kind for r in compare_styles(person, TODAY, settings).reasons}  # noqa: E731
    assert "house" not in kinds(lifter(), DEFAULTS)
    assert "house" in kinds(lifter(), on)
    assert "house" not in kinds(lifter(age=15.0, standing="under-18"), on)


def test_an_empty_log_has_no_reason_of_its_own():
    found = compare_styles(lifter(), TODAY)
    assert found.reasons == () and found.main == ""
