"""The weekly pass over a squad (common practice, no source): who is named, for what, in which order."""

from datetime import date, timedelta

from analysis.core.records.lifts import DayRecord, LifterRecord, PullTags, SetRecord
from analysis.core.records.messages import HEALTH, Message
from analysis.core.settings import DEFAULTS
from analysis.core.squad.review import squad_row
from tests.said import said

TODAY = date(2026, 6, 15)


def pull(days_ago: int, kg: float, **more) -> SetRecord:
    tags = PullTags(style=more.pop("style", "conventional"), bar="stiff", grip="mixed")
    base = {"reps_made": 1, "reps_tried": 1, "rir_low": 1.0, "rir_high": 1.0}
    return SetRecord(f"k{days_ago}-{kg}", TODAY - timedelta(days=days_ago), kg, tags=tags, **{**base, **more})


def miss(days_ago: int, kg: float, **more) -> SetRecord:
    return pull(days_ago, kg, reps_made=0, result="missed", rir_low=None, rir_high=None, **more)


def lifter(sets=(), **more) -> LifterRecord:
    base = {"key": "x", "sex": "f", "age": 30.0, "standing": "trained", "measurements_m": {}}
    return LifterRecord(**{**base, **more}, sets=tuple(sorted(sets, key=lambda s: s.day)))


def codes(row) -> list[str]:
    return [r.code for r in row.reasons]


BASE = [pull(d, 140) for d in (60, 45, 30, 16, 3)]


def test_a_quiet_steady_lifter_has_no_reason():
    assert codes(squad_row(lifter(BASE), TODAY, measured_on=TODAY)) == []


def test_a_new_heavy_miss_comes_first_with_share_place_and_rows():
    row = squad_row(lifter([*BASE, miss(2, 148, miss_position="at-knee", gave_way="back-rounded")]), TODAY)
    first = row.reasons[0]
    assert first.code == "heavy-miss" and first.set_keys == ("k2-148",)
    assert (
        "at the knee" in said(first.text)
        and "back rounded" in said(first.text)
        and "% of the running best" in said(first.text)
    )


def test_an_old_miss_and_a_light_miss_are_not_new_heavy_misses():
    row = squad_row(lifter([*BASE, miss(20, 148), miss(2, 90)]), TODAY, measured_on=TODAY)
    assert "heavy-miss" not in codes(row)


def test_seven_and_fourteen_days_without_a_log_are_named_with_the_day():
    for days, urgency in ((6, None), (7, 3), (14, 2)):
        row = squad_row(lifter([pull(days, 140)]), TODAY, measured_on=TODAY)
        found = [r for r in row.reasons if r.code == "not-logged"]
        assert (found[0].urgency if found else None) == urgency
        assert not found or f"{days} days" in said(found[0].text)


def test_pain_and_soreness_are_private_and_rising_soreness_is_seen():
    days = tuple(DayRecord(TODAY - timedelta(days=9 - 3 * i), soreness=2 + 2 * i) for i in range(4))
    days = (*days, DayRecord(TODAY, pain_event=True))
    row = squad_row(lifter(BASE, days=days), TODAY, measured_on=TODAY)
    health = [r for r in row.reasons if r.code in ("pain", "sore", "soreness-rising")]
    assert {r.code for r in health} == {"pain", "sore", "soreness-rising"}
    assert all(isinstance(r.text, Message) and r.text.needs == HEALTH for r in health)


def test_a_due_trial_a_near_meet_and_stale_measurements_are_named():
    person = lifter(BASE, next_meet=TODAY + timedelta(days=20), standing="under-18", age=15.0)
    row = squad_row(person, TODAY, decide_on=TODAY + timedelta(days=3), measured_on=TODAY - timedelta(days=100))
    assert {"trial-due", "meet-near", "measurements-stale"} <= set(codes(row))
    grown = squad_row(lifter(BASE), TODAY, measured_on=TODAY - timedelta(days=100))
    assert "measurements-stale" not in codes(grown)


def test_the_running_best_is_told_per_style_with_its_range_and_four_weeks_ago():
    row = squad_row(lifter([*BASE, pull(4, 120, style="sumo")]), TODAY)
    by_style = {s.style: s for s in row.styles}
    assert by_style["conventional"].low_kg < by_style["conventional"].now_kg < by_style["conventional"].high_kg
    assert by_style["conventional"].four_weeks_ago_kg is not None
    assert by_style["sumo"].four_weeks_ago_kg is None


def test_a_changed_number_changes_the_reason():
    quiet = lifter([pull(8, 140)])
    assert "not-logged" in codes(squad_row(quiet, TODAY, measured_on=TODAY))
    loose = DEFAULTS.with_values({"squad.quiet_days": 20})
    assert "not-logged" not in codes(squad_row(quiet, TODAY, loose, measured_on=TODAY))


def test_the_same_work_at_a_higher_rpe_is_named():
    easy = [pull(d, 130, rir_low=3.0, rir_high=3.0) for d in (50, 43, 36)]
    hard = [pull(d, 130, rir_low=1.0, rir_high=1.0) for d in (20, 12, 4)]
    assert "rpe-creep" in codes(squad_row(lifter([*easy, *hard]), TODAY, measured_on=TODAY))
    assert "rpe-creep" not in codes(
        squad_row(lifter([*easy, *(pull(d, 130, rir_low=3.0, rir_high=3.0) for d in (20, 4))]), TODAY)
    )
