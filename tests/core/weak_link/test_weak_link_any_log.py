"""Any log at all gives a report: no exception, chances that sum to 1, ranges in order, nothing silently dropped."""

from datetime import timedelta

import numpy as np
import pytest

from analysis.core.records import terms
from analysis.core.records.lifts import DayRecord, LifterRecord, PullTags, SetRecord
from analysis.core.weak_link import weak_link_report, weak_link_reports
from tests.core.logbook import day
from tests.core.weak_link_log import TODAY, base, lifter, report


def any_of(rng, words):
    return words[rng.integers(len(words))]


def any_set(rng, number):
    start = any_of(rng, terms.STARTS)
    offset = {"floor": 0.0, "block": rng.choice([0.05, 0.2, 0.7]), "deficit": -rng.choice([0.03, 0.1])}[start]
    tags = PullTags(
        lift=any_of(rng, terms.LIFTS),
        style=any_of(rng, ("", *terms.STYLES)),
        shape=any_of(rng, terms.SHAPES),
        bar=any_of(rng, terms.BARS),
        start=start,
        start_offset_m=float(offset),
        grip=any_of(rng, terms.GRIPS),
        straps=bool(rng.integers(2)),
        depth_verified=bool(rng.integers(2)),
    )
    result = any_of(rng, terms.RESULTS)
    rir = None if rng.uniform() < 0.3 else float(rng.integers(0, 6))
    places = [str(p) for p in rng.choice(terms.MISS_POSITIONS, rng.integers(0, 3), replace=False)]
    return SetRecord(
        key=f"set-{number}",
        day=day(TODAY) - timedelta(days=int(rng.integers(-3, 400))),
        load_kg=float(rng.choice([2.5, 60, 100, 140, 180, 181, 220, 400])),
        reps_made=int(rng.integers(1, 12)) if result == "made" else 0,
        reps_tried=12,
        tags=tags,
        result=result,
        rir_low=rir,
        rir_high=rir,
        miss_position=places[0] if places else "",
        second_position=places[1] if len(places) > 1 else "",
        gave_way=any_of(rng, ("", *terms.GAVE_WAY)),
        slowest_at=any_of(rng, ("", *terms.MISS_POSITIONS)),
        what_changed=any_of(rng, ("", *terms.GAVE_WAY)),
    )


def any_lifter(seed):
    rng = np.random.default_rng(seed)
    days = [DayRecord(day(TODAY - int(d)), soreness=int(rng.integers(0, 11))) for d in rng.integers(0, 90, 5)]
    return LifterRecord(
        key=str(seed),
        sex=any_of(rng, ("m", "f")),
        age=any_of(rng, (None, 15.0, 30.0, 70.0)),
        standing=any_of(rng, (*terms.STANDINGS, "trained", "trained")),
        measurements_m=any_of(rng, ({}, {"stature": 1.5}, {"stature": 2.05, "mass": 150.0}, {"mass": 48.0})),
        sets=tuple(any_set(rng, n) for n in range(int(rng.integers(0, 60)))),
        days=tuple({d.day: d for d in days}.values()),
    )


@pytest.mark.parametrize("seed", range(40))
def test_any_log_gives_a_report(seed):
    one = any_lifter(seed)
    found = weak_link_report(one, day(TODAY))
    for style in found.styles:
        assert sum(c.chance for c in style.chances) == pytest.approx(1.0)
        assert 0.0 < style.low_kg <= style.best_kg <= style.high_kg < 2000.0
        assert all(np.isfinite([g.kg for g in style.gains]))
    assert (found.status == "named") == (not found.why_not and bool(found.styles))
    listed = {key for row in found.misses_by_position for key in row.set_keys}
    since = day(TODAY) - timedelta(weeks=12)
    lost = [s for s in one.sets if s.tags.lift == "deadlift" and s.result != "made" and since < s.day <= day(TODAY)]
    assert {s.key for s in lost} == listed


def test_the_future_is_not_read():
    now = lifter(base())
    later = lifter([*base(), SetRecord("next", day(TODAY + 1), 300.0, 1, 1, base()[0].tags, rir_low=0, rir_high=0)])
    assert report(later).styles[0].best_kg == report(now).styles[0].best_kg


def test_a_squad_is_read_one_by_one():
    both = [lifter(base()), lifter(base(150))]
    found = weak_link_reports(both, day(TODAY))
    assert [r.styles[0].best_kg for r in found] == [report(one).styles[0].best_kg for one in both]


def test_the_same_log_gives_the_same_numbers_twice():
    one = lifter(base())
    assert report(one) == report(one)
