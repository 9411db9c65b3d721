"""The picture of the pull: the lifter at the expected sticking height, a mark per miss, words that say the same."""

import re
from datetime import date
from xml.etree import ElementTree

import pytest

from analysis.core.leverages.report import leverage_report
from analysis.core.records.bodies import BodyInput
from analysis.core.records.pulls import SetupInput
from analysis.core.records.weak_link import MissMark, StyleReading, UtilisationCurve
from analysis.figures.picture import pull_picture

BODY = BodyInput("f", {"stature": 1.68, "mass": 66.0})
CURVE = UtilisationCurve((0.225, 0.7), (0.0, 1.0), (0.8, 0.2), (0.5, 0.1), (1.0, 0.3))


def mark(position: str, counted: bool = True) -> MissMark:
    return MissMark(0.5, position, 140.0, date(2026, 10, 3), f"{position}{counted}", counted)


def reading(style: str, share: float, *marks: MissMark) -> StyleReading:
    return StyleReading(
        style=style, label=f"{style}, floor", rests_on_sets=9, chances=(), clear=True, limiter="back", best_kg=150.0,
        low_kg=145.0, high_kg=155.0, sticking_height_m=0.3, sticking_share=share, sticking_position="mid-shin",
        gains=(), curve=CURVE, miss_marks=marks,
    )  # fmt: skip


def drawn(style: str, share: float, *marks: MissMark) -> ElementTree.Element:
    (report,) = leverage_report(BODY, [SetupInput(preset=style)], draws=2).styles
    return ElementTree.fromstring(pull_picture(reading(style, share, *marks), report, f"pull-{style}"))


def of_class(picture: ElementTree.Element, *classes: str) -> list[ElementTree.Element]:
    return [node for node in picture.iter() if set(classes) <= set(node.get("class", "").split())]


@pytest.mark.parametrize("style", ["conventional", "sumo"])
def test_a_ring_per_miss_and_dashed_ones_for_those_left_out(style):
    picture = drawn(style, 0.2, mark("floor"), mark("lockout"), mark("lockout", counted=False))
    assert len(of_class(picture, "miss")) == 3 and len(of_class(picture, "left-out")) == 1
    floor, lockout, _ = (float(ring.get("cy")) for ring in of_class(picture, "miss"))
    assert floor > lockout  # the page's y points down


def test_the_expected_height_rises_with_the_share_of_the_pull():
    heights = [float(re.findall(r",([\d.]+)", of_class(drawn("sumo", s), "stick")[0].get("d"))[0]) for s in (0, 0.6)]
    feet = [float(re.findall(r",([\d.]+)", of_class(drawn("sumo", s), "floor")[0].get("d"))[0]) for s in (0, 0.6)]
    above = [(floor - height) / 200.0 for floor, height in zip(feet, heights, strict=True)]
    assert above[0] == pytest.approx(0.225, abs=0.01) and above[1] > above[0] + 0.2


def test_the_words_say_what_the_picture_shows():
    title, words = list(drawn("conventional", 0.2, mark("at-knee")))[:2]
    assert "conventional, floor" in title.text
    assert "at the knee (3 Oct 2026)" in words.text and "expected to stick: mid-shin" in words.text


def test_no_two_names_stand_on_one_line():
    names = [float(n.get("y")) for n in of_class(drawn("sumo", 0.0), "label") if n.text not in ("expected", "to stick")]
    assert len(names) == 6 and min(abs(a - b) for a in names for b in names if a is not b) > 15


def test_a_body_without_such_a_pull_gets_the_bare_rail():
    assert 'class="ladder"' in pull_picture(reading("wide-sumo", 0.1), None, "pull-wide-sumo")
