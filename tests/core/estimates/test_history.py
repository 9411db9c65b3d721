"""The long view: bests that survive a change of style, shaded gaps, sudden falls."""

import pytest

from analysis.core.estimates.history import gaps, heaviest_lifts, sudden_falls
from tests.core.logbook import day, missed, note, pull, weekly
from tests.said import said


def test_each_style_keeps_its_best_beside_that_of_all_time():
    sets = weekly(0, 3, 240) + weekly(300, 3, 225, style="sumo")
    tops = {t.style: t.load_kg for t in heaviest_lifts(sets)}
    assert tops == {"": 240, "conventional": 240, "sumo": 225}
    assert heaviest_lifts([]) == ()


def test_blocks_deficits_hex_bars_misses_and_shrugs_are_no_floor_best():
    sets = [
        pull(0, 200),
        pull(1, 260, start="block", start_offset_m=0.1),
        pull(2, 250, bar="hex-high"),
        missed(3, 230),
        pull(4, 300, lift="other"),
    ]
    assert {t.load_kg for t in heaviest_lifts(sets)} == {200}


def test_a_pause_is_a_gap_and_pain_before_it_is_known():
    sets = weekly(0, 3, 200) + weekly(80, 3, 180)
    (plain,) = gaps(sets, [], day(100))
    assert (plain.begins, plain.ends, plain.after_pain) == (day(14), day(80), False)
    (hurt,) = gaps(sets, [note(12, pain_event=True)], day(100))
    assert hurt.after_pain
    assert gaps(sets[:3], [], day(60))[0].ends == day(60)
    assert gaps(sets[:3], [], day(30)) == () == gaps([], [], day(30))


def test_a_fall_after_pain_stops_and_defers():
    sets = [*weekly(0, 6, 200), pull(50, 150, 1, 6), missed(50, 175)]
    (found,) = sudden_falls(sets, [note(48, pain_event=True)], day(51))
    assert found.code == "sudden-fall" and found.weight == "stop" and "professional" in said(found.text)
    assert found.number("change") == pytest.approx(150 / 200 - 1)
    (calm,) = sudden_falls(sets, [], day(51))
    assert calm.weight == "caution"


def test_light_weeks_are_no_fall():
    assert sudden_falls([*weekly(0, 6, 200), pull(50, 120, 3, 6)], [], day(51)) == ()
    assert sudden_falls([*weekly(0, 6, 200), pull(50, 190, 1, 9), missed(50, 205)], [], day(51)) == ()
