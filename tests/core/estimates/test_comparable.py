"""Unlike pulls are never mixed, and every kind says in words what it holds."""

from dataclasses import fields, replace

import pytest

from analysis.core.estimates.comparable import difference_words, differences, group_sets, held, kind_key, kind_of, label
from analysis.core.records.lifts import PullTags
from analysis.core.records.plain import UnknownKey
from tests.core.logbook import pull

BASE = PullTags(style="sumo", bar="stiff", grip="mixed")
OTHER = {
    "lift": "squat",
    "style": "conventional",
    "shape": "rounded-before",
    "bar": "flexible",
    "start": "block",
    "start_offset_m": 0.10,
    "disc_diameter_m": 0.40,
    "grip": "hook",
    "straps": True,
    "belt": True,
    "suit": True,
    "dead_stop": False,
    "paused": True,
}


@pytest.mark.parametrize("tag", OTHER)
def test_a_difference_in_any_tag_makes_another_kind(tag):
    other = replace(BASE, **{tag: OTHER[tag]})
    assert kind_of(other) != kind_of(BASE)
    assert kind_key(kind_of(other)) != kind_key(kind_of(BASE))


def test_every_tag_of_the_record_was_tried_above():
    assert {f.name for f in fields(PullTags)} == set(OTHER) | {"depth_verified"}


def test_verified_depth_splits_squats_but_not_deadlifts():
    squat = PullTags(lift="squat")
    assert kind_of(squat) != kind_of(replace(squat, depth_verified=True))
    assert kind_of(BASE) == kind_of(replace(BASE, depth_verified=True))


def test_heights_within_half_a_step_are_the_same_start():
    low, near, far = (replace(BASE, start="block", start_offset_m=h) for h in (0.100, 0.1019, 0.106))
    assert kind_of(low) == kind_of(near) != kind_of(far)


def test_the_label_speaks_plainly():
    assert label(kind_of(BASE)) == "sumo, floor, stiff bar, mixed grip, no straps"
    block = replace(BASE, start="block", start_offset_m=0.1, straps=True, shape="rounded-before", belt=True)
    assert label(kind_of(block)) == "sumo, block +10 cm, stiff bar, mixed grip, straps, rounded before the pull, belt"
    assert label(kind_of(PullTags(lift="front-squat"))) == "front squat, depth not verified"


def test_what_is_set_aside_is_said():
    rounded = replace(BASE, shape="rounded-during")
    assert kind_of(rounded, ["shape"]) == kind_of(BASE, ["shape"])
    assert "any back shape" in label(kind_of(rounded, ["shape"]))
    with pytest.raises(UnknownKey, match="colour"):
        kind_of(BASE, ["colour"])


def test_differences_are_named_with_both_values():
    first, second = kind_of(BASE), kind_of(replace(BASE, bar="flexible", straps=True))
    assert differences(first, second) == ("bar", "straps")
    assert difference_words(first, second) == ("bar (stiff bar, flexible bar)", "straps (no, yes)")


def test_grouping_keeps_every_set_once():
    sets = [pull(d, 150, bar=bar) for d in range(4) for bar in ("stiff", "flexible")]
    groups = group_sets(sets)
    assert len(groups) == 2
    assert sorted(s.key for g in groups.values() for s in g) == sorted(s.key for s in sets)


def test_a_figure_of_two_bars_holds_everything_but_the_bar():
    words = held([kind_of(BASE), kind_of(replace(BASE, bar="flexible"))])
    assert "bar" not in words and "straps" in words and "style" in words
