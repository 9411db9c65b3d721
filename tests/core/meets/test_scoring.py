"""Scoring formulas against worked examples, and what open meet results confirm (aggregates only)."""

import pytest

from analysis.core.meets.scoring import (
    DOTS,
    IPF_GL,
    WILKS,
    NoScore,
    age_coefficient,
    age_group,
    dots,
    ipf_gl,
    weight_class,
    wilks,
)
from analysis.core.records.plain import UnknownKey

# sex, body mass, total, IPF GL classic, Wilks 1994, DOTS: worked from the formulas with the coefficients above
WORKED = [
    ("m", 93, 700, 91.5748, 439.7331, 445.3758),
    ("m", 83, 620, 85.8245, 413.8496, 418.5542),
    ("m", 66, 500, 77.9421, 392.5981, 391.7635),
    ("m", 105, 760, 93.8328, 454.1407, 458.3533),
    ("m", 140, 900, 98.1080, 502.9260, 493.2179),
    ("f", 63, 400, 87.5133, 429.5830, 430.2060),
    ("f", 76, 450, 88.7204, 424.2936, 435.2516),
    ("f", 52, 330, 83.3276, 411.3902, 402.2375),
]


@pytest.mark.parametrize(("sex", "mass", "total", "gl", "old", "dot"), WORKED)
def test_points_of_the_worked_examples(sex, mass, total, gl, old, dot):
    assert ipf_gl(total, mass, sex) == pytest.approx(gl, abs=5e-5)
    assert wilks(total, mass, sex) == pytest.approx(old, abs=5e-5)
    assert dots(total, mass, sex) == pytest.approx(dot, abs=5e-5)


def test_equipped_and_bench_have_coefficients_of_their_own():
    assert ipf_gl(700, 93, "m", "equipped") == pytest.approx(75.9133, abs=5e-5)
    assert ipf_gl(400, 63, "f", "equipped") == pytest.approx(72.2140, abs=5e-5)
    assert ipf_gl(180, 93, "m", event="bench") == pytest.approx(85.3991, abs=5e-5)
    assert ipf_gl(90, 63, "f", "equipped", "bench") == pytest.approx(54.3133, abs=5e-5)


def test_there_are_no_deadlift_only_coefficients():
    with pytest.raises(UnknownKey, match="deadlift"):
        ipf_gl(250, 83, "m", event="deadlift")


def test_every_coefficient_set_names_its_source():
    assert all(c.source for table in (IPF_GL, DOTS, WILKS) for c in table.values())
    assert all("from memory" in c.source for table in (IPF_GL, DOTS) for c in table.values())


def test_edges_of_body_mass():
    assert ipf_gl(100, 34.9, "m") == 0.0
    assert dots(300, 30, "f") == dots(300, 40, "f") and dots(300, 170, "f") == dots(300, 150, "f")
    with pytest.raises(NoScore):
        dots(300, 0, "m")


def test_points_rise_with_the_total_and_fall_with_body_mass():
    assert dots(610, 83, "m") > dots(600, 83, "m") > dots(600, 93, "m")
    assert ipf_gl(610, 83, "m") > ipf_gl(600, 83, "m") > ipf_gl(600, 93, "m")


@pytest.mark.parametrize(
    ("mass", "sex", "junior", "name"),
    [
        (83, "m", False, "83"),
        (83.01, "m", False, "93"),
        (121, "m", False, "120+"),
        (52, "m", False, "59"),
        (52, "m", True, "53"),
        (43, "f", True, "43"),
        (43, "f", False, "47"),
        (84.5, "f", False, "84+"),
    ],
)
def test_weight_classes(mass, sex, junior, name):
    assert weight_class(mass, sex, junior=junior) == name


def test_ages_go_by_calendar_year():
    groups = [age_group(2026 - age, 2026) for age in (13, 14, 18, 19, 23, 24, 39, 40, 50, 60, 70)]
    assert groups == ["under age", "sub-junior", "sub-junior", "junior", "junior", "open", "open"] + [
        f"masters {n}" for n in (1, 2, 3, 4)
    ]
    assert age_coefficient(30) == 1.0 and age_coefficient(16) == 1.13 and age_coefficient(60) == 1.34
