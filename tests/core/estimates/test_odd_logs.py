"""Whatever is logged, the statistics answer: no error, no NaN, ranges in order (random logs by hypothesis)."""

from math import isfinite

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from analysis.core.estimates.effort import big_jumps, rpe_creeps, slower_pulls
from analysis.core.estimates.grip_and_bar import bar_findings, grip_findings, order_findings, start_heights
from analysis.core.estimates.history import gaps, heaviest_lifts, sudden_falls
from analysis.core.estimates.running_best import running_bests
from analysis.core.records import terms
from analysis.core.records.estimates import TrialPlan
from analysis.core.records.lifts import DayRecord, PullTags, SetRecord
from analysis.core.training.back_load import back_load
from analysis.core.trials import judge_trial
from tests.core.logbook import day

some = st.sampled_from
tags = st.builds(
    PullTags,
    lift=some(("deadlift", "deadlift", "deadlift", "squat", "row", "other")),
    style=some(("", *terms.STYLES)),
    shape=some(terms.SHAPES),
    bar=some(("stiff", "flexible", "hex-high", "unknown")),
    start_offset_m=some((0.0, 0.0, 0.1, -0.05)),
    grip=some(terms.GRIPS),
    straps=st.booleans(),
)
reserve = st.one_of(st.none(), st.floats(0, 10))
sets = st.builds(
    SetRecord,
    key=st.uuids().map(str),
    day=st.integers(0, 160).map(day),
    load_kg=st.floats(0.5, 600),
    reps_made=st.integers(0, 40),
    reps_tried=st.integers(0, 40),
    tags=tags,
    result=some(terms.RESULTS),
    rir_low=reserve,
    rir_high=reserve,
    gave_way=some(("", *terms.GAVE_WAY)),
    pull_seconds=st.one_of(st.none(), st.floats(0.2, 15)),
    in_new_style=some(("", "yes", "partly", "no")),
    is_test=st.booleans(),
)
notes = st.builds(
    DayRecord,
    day=st.integers(0, 160).map(day),
    soreness=st.one_of(st.none(), st.integers(0, 10)),
    pain_event=st.booleans(),
)
PLAN = TrialPlan("t", "conventional", "sumo", day(56), 12, 1.5, day(140))


@settings(max_examples=150, deadline=None)
@given(st.lists(sets, max_size=25), st.integers(0, 200))
def test_running_bests_are_finite_and_their_bands_in_order(log, now):
    for best in running_bests(log, day(now)).values():
        assert best.days == tuple(sorted(best.days)) and best.days[-1] <= day(now)
        for low, level, high in zip(best.low_kg, best.level_kg, best.high_kg, strict=True):
            assert isfinite(level) and 0 < low < level < high
        assert all(e.reason for e in best.unused)


@settings(max_examples=80, deadline=None)
@given(st.lists(sets, max_size=25), st.lists(notes, max_size=10), st.integers(56, 160), some(terms.STANDINGS))
def test_a_trial_always_gets_a_word_a_date_and_a_reason(log, days, now, standing):
    verdict = judge_trial(PLAN, log, days, day(now), standing=standing)
    assert verdict.word in ("adopt", "extend", "drop", "too early")
    assert verdict.reasons and verdict.reasons[0].text
    assert verdict.next_look >= day(now) or verdict.word == "too early"
    if verdict.heading is not None:
        chances = (verdict.heading.chance_better, verdict.heading.chance_equal, verdict.heading.chance_worse)
        assert all(-1e-6 <= c <= 1 + 1e-6 for c in chances)
        assert verdict.heading.heading_low_kg < verdict.heading.heading_kg < verdict.heading.heading_high_kg


@settings(max_examples=80, deadline=None)
@given(st.lists(sets, max_size=25), st.lists(notes, max_size=10), st.integers(0, 200))
def test_every_finding_of_an_odd_log_has_words_and_finite_numbers(log, days, now):
    today = day(now)
    load = back_load(log, np.full(len(log), 300.0), np.full(len(log), np.nan), days, today)
    found = [*load.findings, *grip_findings(log, today), *bar_findings(log, today), *big_jumps(log)]
    found += [*slower_pulls(log, today), *sudden_falls(log, days, today)]
    found += order_findings(start_heights(log, today, "sumo"))
    assert all(f.text and f.weight in ("note", "caution", "stop") for f in found)
    assert all(isfinite(value) for f in found for _, value in f.numbers)
    keys = {s.key for s in log}
    assert all(set(f.set_keys) <= keys for f in found)
    assert rpe_creeps(log, today) is not None and heaviest_lifts(log) is not None
    assert all(g.begins < g.ends for g in gaps(log, days, today))
