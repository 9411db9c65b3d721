"""The athlete's own page: what stands there and what never does."""

from datetime import date, timedelta

from analysis.core.records.lifts import LifterRecord, PullTags, SetRecord
from analysis.core.squad.summary import athlete_summary, rep_bests

TODAY = date(2026, 6, 15)


def pull(days_ago, kg, reps=1, **more):
    tags = PullTags(
        style=more.pop("style", "sumo"),
        start=more.pop("start", "floor"),
        bar=more.pop("bar", "stiff"),
        start_offset_m=more.pop("offset", 0.0),
    )
    base = {"rir_low": 0.0, "rir_high": 0.0}
    return SetRecord(f"{days_ago}/{kg}", TODAY - timedelta(days=days_ago), kg, reps, reps, tags, **{**base, **more})


def lifter(*sets, **more):
    return LifterRecord(
        **{"key": "x", "sex": "f", "age": 28.0, "standing": "trained", "measurements_m": {}, **more}, sets=sets
    )


def test_bests_stand_per_comparable_kind_with_range_and_real_single():
    found = athlete_summary(lifter(pull(40, 100), pull(10, 105), pull(5, 120, start="block", offset=0.1)), TODAY)
    assert len(found.bests) == 2
    floor = next(b for b in found.bests if "block" not in b.label)
    assert floor.low_kg < floor.now_kg < floor.high_kg
    assert floor.single_kg == 105 and floor.single_on == TODAY - timedelta(days=10)


def test_rep_bests_name_the_heaviest_per_count_once_and_mark_what_is_new():
    found = rep_bests([pull(100, 90, 5), pull(10, 80, 8), pull(9, 95, 3), pull(50, 70, 5)], TODAY)
    assert [(r.reps, r.load_kg, r.fresh) for r in found] == [(3, 95, True), (5, 90, False), (8, 80, True)]


def test_blocks_hex_bars_and_misses_make_no_rep_best():
    rows = [pull(5, 150, start="block", offset=0.1), pull(5, 160, bar="hex-high"), pull(5, 170, result="missed")]
    assert rep_bests(rows, TODAY) == ()


def test_an_empty_log_gives_empty_parts():
    found = athlete_summary(lifter(), TODAY)
    assert found.bests == () and found.heaviest_kg is None and found.words == ()


def test_standing_gives_context_and_no_page_calls_a_lifter_failed():
    for standing in ("beginner", "returning"):
        said = " ".join(athlete_summary(lifter(pull(3, 100), standing=standing), TODAY).words)
        assert said and "fail" not in said.lower()
