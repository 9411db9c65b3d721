"""Logs of the demo are what a coach would plan: over every lifter of the seed."""

from collections import defaultdict
from datetime import date, timedelta

import pytest

from athletes.demo.build import build_demo
from athletes.demo.lifters import KILN_LANE, WEIRSIDE
from athletes.demo.stories import COURSES
from athletes.demo.training import best_on
from athletes.models import LiftSet, Trial

TODAY = date(2026, 11, 25)
NEAR = timedelta(days=2)


@pytest.fixture
def demo(db):
    build_demo(TODAY)


def pulls_by_athlete() -> dict[str, list[LiftSet]]:
    rows = LiftSet.objects.filter(lift="deadlift", start="floor").select_related("athlete").order_by("day", "order")
    found = defaultdict(list)
    for row in rows:
        found[row.athlete.name].append(row)
    return found


def test_no_single_from_93_per_cent_within_two_days_of_a_heavy_triple(demo):
    lifters = {lifter.name: lifter for lifter in KILN_LANE + WEIRSIDE}
    checked = 0
    for name, rows in pulls_by_athlete().items():
        best = max(best_on(lifters[name], week) for week in range(lifters[name].weeks))
        triples = [r.day for r in rows if r.reps_tried >= 3 and r.load_kg >= 0.85 * best]
        singles = [r.day for r in rows if r.reps_tried == 1 and r.load_kg >= 0.93 * best]
        checked += len(singles)
        close = [(s, t) for s in singles for t in triples if timedelta(0) <= s - t <= NEAR]
        assert close == [], name
    assert checked > 50


def test_no_heavy_conventional_miss_inside_a_sumo_trial_and_nothing_missed_in_its_sets(demo):
    trials = list(Trial.objects.select_related("athlete"))
    assert len(trials) == sum(lifter.story in COURSES for lifter in KILN_LANE + WEIRSIDE)
    for trial in trials:
        until = min(trial.decide_on, TODAY)
        rows = trial.athlete.sets.filter(lift="deadlift", day__gte=trial.started_on, day__lte=until)
        assert rows.exists()
        assert not rows.filter(result="missed").exists(), trial.athlete.name
        assert not rows.filter(reps_tried=1).exists(), trial.athlete.name


def test_a_trial_keeps_the_old_style_and_has_days_in_the_new_one(demo):
    for trial in Trial.objects.filter(status="running"):
        rows = trial.athlete.sets.filter(lift="deadlift", day__gte=trial.started_on)
        old = set(rows.filter(style="conventional").values_list("day", flat=True))
        new = set(rows.filter(style="sumo").values_list("day", flat=True))
        assert len(old) >= 2 and len(new) >= 5, trial.athlete.name
