"""Body measures in files: which columns they are, what is taken, guessed or asked about, and how they go in and out.

Row forms 25 (a body mass with swapped digits) and 37 (heights and arms in many shapes) and their kinds.
"""

import pytest

from athletes.importing.moving.outcome import sums
from athletes.importing.moving.taking import NOTE
from athletes.models import Athlete, LiftSet, Measurement, MeasuringVisit, TrainingDay
from tests.athletes.importing.body_measures import DAY, LOG, measured, taken, weighed
from tests.athletes.importing.import_steps import outcome, read_in


@pytest.fixture
def club(cast):
    Athlete.objects.create(club=cast.quarry, name="Lee Pound", sex="m", weight_unit="kg", standing="trained")
    return cast


HEIGHTS = [
    # typed, heading, cm, standing
    ("5'11", "height", 180.3, "ok"), ("5'11\"", "Height", 180.3, "ok"), ("180", "Größe", 180.0, "ok"),
    ("1.80", "taille", 180.0, "guess"), ("1,80", "altura", 180.0, "guess"), ("71in", "height", 180.3, "ok"),
    ("71", "Height (in)", 180.3, "ok"), ("71", "height", 180.3, "guess"), ("5 ft 11", "stature", 180.3, "ok"),
    ("5-11", "height", 180.3, "guess"), ("1m80", "taille", 180.0, "ok"), ("1800 mm", "wzrost", 180.0, "ok"),
    ("5’11½”", "height", 181.6, "ok"), ("180 cm", "рост", 180.0, "ok"), ("１８０", "身長", 180.0, "ok"),
    ("178,5", "lengte", 178.5, "ok"), ("6'", "height", 182.9, "ok"), ("180.34", "längd", 180.3, "ok"),
]  # fmt: skip


@pytest.mark.parametrize(("typed", "heading", "cm", "standing"), HEIGHTS)
def test_37_a_height_in_any_shape_is_one_length(club, typed, heading, cm, standing):
    cell = '"' + typed.replace('"', '""') + '"'
    batch = read_in(club, f"date,name,{heading}\n{DAY},Lee Pound,{cell}\n")
    assert [s for _, s, _ in outcome(batch)] == [standing], outcome(batch)
    taken(batch)
    [(_, day, key, value, kept, _)] = measured()
    assert (day, key, value, kept) == (DAY, "stature", cm, typed)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("5.11", "feet and inches, or feet?"), ("l80", "letter among its digits"), ("8", "too small"),
        ("tall", "not one number"), ("0", "is 0"), ("-180", "negative"), ("82 kg", "is a weight"),
        ("122", "Is it right as typed?"), ("180/181", "not one number"), ("999", "too large"),
    ],
)  # fmt: skip
def test_37_a_height_that_cannot_be_known_is_asked_about(club, typed, says):
    batch = read_in(club, f'date,name,height\n{DAY},Lee Pound,"{typed}"\n')
    [(_, status, reason)] = outcome(batch)
    assert status == "ask" and says in reason


def test_37_feet_with_a_point_are_asked_once_for_the_file(club):
    text = f"date,name,height\n{DAY},Lee Pound,5.11\n{DAY},Ada Fell,5.5\n"
    for answered, values in (("feet-inches", [165.1, 180.3]), ("feet", [155.8, 167.6])):
        batch = read_in(club, text, answers={"feet|file": answered})
        assert [s for _, s, _ in outcome(batch)] == ["ok", "ok"] or answered == "feet"
        assert sorted(round(m["value"], 1) for r in batch.rows.all() for m in r.parsed["measures"]) == values


ARMS = [
    # height, column, typed, what it is
    ("5'11", "arm", '72"', "span"), ("180", "arm", "183", "span"), ("180", "arm length", '29"', "one"),
    ("180", "arm", "78 cm", "one"),
    ("180", "arm", "78", "ask"), ("", "arm", '72"', "span"), ("", "arm", '29"', "one"), ("180", "arm", "110", "ask"),
    ("180", "wingspan", "72in", "span"), ("180", "Spannweite", "181", "span"), ("180", "envergure", "1,82", "span"),
    ("180", "arm span", '29"', "ask"), ("180", "reach", "74 cm", "ask"), ("", "arm", "72", "ask"),
    ("180", "arm span", "140", "ask"),
]  # fmt: skip


@pytest.mark.parametrize(("height", "column", "typed", "kind"), ARMS)
def test_37_an_arm_is_told_from_a_span_by_the_height(club, height, column, typed, kind):
    cell = '"' + typed.replace('"', '""') + '"'
    batch = read_in(club, f'date,name,height,{column}\n{DAY},Lee Pound,"{height}",{cell}\n')
    [(_, status, reason)] = outcome(batch)
    keys = [m["key"] for m in ((batch.rows.get().parsed or {}).get("measures", []))]
    if kind == "span":
        assert "arm_span" in keys and status in ("ok", "guess")
    elif kind == "one":
        assert "arm_span" not in keys and "length of one arm" in reason
        assert status == ("guess" if height else "skip")
    else:
        assert status == "ask" and batch.options["questions"]


def test_37_what_an_arm_is_can_be_answered(club):
    text = f"date,name,height,arm\n{DAY},Lee Pound,180,110\n"
    batch = read_in(club, text, answers={"arm|file": "one"})
    assert [s for _, s, _ in outcome(batch)] == ["guess"]
    assert "left out" in outcome(batch)[0][2]
    batch = read_in(club, f"date,name,height,arm\n{DAY},Lee Pound,180,76 cm\n", answers={"arm|file": "span"})
    assert [s for _, s, _ in outcome(batch)] == ["ask"]  # no span is as short as that, whatever was answered


def test_lengths_of_one_body_that_do_not_fit_are_asked_about_and_a_yes_is_remembered(club):
    text = f"date,name,height,span\n{DAY},Lee Pound,180,215\n"
    batch = read_in(club, text)
    [(_, status, reason)] = outcome(batch)
    assert status == "ask" and "of the stature" in reason
    [key] = [k for k in batch.options["questions"] if k.startswith("odd|")]
    assert "215" not in key
    assert [s for _, s, _ in outcome(read_in(club, text, answers={key: "right"}))] == ["ok"]
    assert [s for _, s, _ in outcome(read_in(club, text))] == ["ok"]
    other = read_in(club, text.replace("215", "216"))
    assert [s for _, s, _ in outcome(other)] == ["ask"]
    left = read_in(club, text, answers={key: "leave-out"})
    assert [m["key"] for m in left.rows.get().parsed["measures"]] == ["stature"]


def test_a_length_is_held_against_what_was_measured_before(club):
    visit = MeasuringVisit.objects.create(athlete=Athlete.objects.get(name="Lee Pound"), day="2026-01-01")
    Measurement.objects.create(visit=visit, key="stature", typed="180", unit="cm", value=180)
    batch = read_in(club, f"date,name,span\n{DAY},Lee Pound,140\n")
    assert "of the stature 180 cm" in outcome(batch)[0][2]


MASSES = [
    # heading, typed, unit column, kg, typed as kept, unit, standing
    ("bw", "82.4", "", 82.4, "82.4", "kg", "guess"), ("BW (kg)", "82,4", "", 82.4, "82,4", "kg", "ok"),
    ("bodyweight lb", "181", "", 82.1, "181", "lb", "ok"), ("bw", "181 lb", "", 82.1, "181", "lb", "ok"),
    ("Körpergewicht", "82,4 kg", "", 82.4, "82,4", "kg", "ok"),
    ("poids de corps", "82.4", "kg", 82.4, "82.4", "kg", "guess"),
    ("体重", "82.4kg", "", 82.4, "82.4", "kg", "ok"), ("bwt", "12 st 13", "", 82.1, "181", "lb", "ok"),
]  # fmt: skip


@pytest.mark.parametrize(("heading", "typed", "unit", "kg", "kept", "kept_unit", "standing"), MASSES)
def test_a_body_mass_becomes_a_reading_of_an_import_visit(club, heading, typed, unit, kg, kept, kept_unit, standing):
    batch = read_in(club, f'date,lifter,lift,weight,unit,reps,{heading}\n{DAY},Lee Pound,,,{unit},,"{typed}"\n')
    assert [s for _, s, _ in outcome(batch)] == [standing], outcome(batch)
    taken(batch)
    assert weighed() == [("Lee Pound", DAY, kg, kept, kept_unit)]
    assert not TrainingDay.objects.exists() and MeasuringVisit.objects.get().note == NOTE


def test_a_body_mass_beside_lengths_goes_to_their_visit(club):
    batch = read_in(club, "Name,Height,Weight,Arm span\nLee Pound,180,82 kg,183\n", answers={"file-date|file": DAY})
    taken(batch)
    assert [m[2:4] for m in measured()] == [("arm_span", 183.0), ("mass", 82.0), ("stature", 180.0)]
    assert weighed() == [] and MeasuringVisit.objects.get().measured_by == club.stan
    assert LiftSet.objects.count() == 0


def test_25_swapped_digits_are_asked_about_and_the_set_waits_with_them(club):
    text = LOG + "2026-03-13,Ada Fell,DL,140,kg,3,82.4 kg\n2026-03-20,Ada Fell,DL,142.5,kg,3,68.4 kg\n"
    batch = read_in(club, text)
    assert [s for _, s, _ in outcome(batch)] == ["ok", "ask"]
    assert "5 % a week" in outcome(batch)[1][2]
    [key] = [k for k in batch.options["questions"] if k.startswith("jump|")]
    counts = sums(batch)
    assert counts["rows"] == counts["taken"] + counts["fixed"] + counts["skipped"] == 2
    left = read_in(club, text, answers={key: "leave-out"})
    assert [s for _, s, _ in outcome(left)] == ["ok", "guess"]
    taken(left)
    assert LiftSet.objects.count() == 2 and [w[2] for w in weighed()] == [82.4]


def test_25_a_yes_takes_both_and_is_remembered_for_this_very_reading(club):
    text = LOG + "2026-03-13,Ada Fell,DL,140,kg,3,82.4 kg\n2026-03-20,Ada Fell,DL,142.5,kg,3,68.4 kg\n"
    [key] = [k for k in read_in(club, text).options["questions"] if k.startswith("jump|")]
    batch = read_in(club, text, answers={key: "right"})
    assert [s for _, s, _ in outcome(batch)] == ["ok", "ok"]
    assert [s for _, s, _ in outcome(read_in(club, text))] == ["ok", "ok"]
    assert [s for _, s, _ in outcome(read_in(club, text.replace("68.4", "67.4")))] == ["ok", "ask"]


@pytest.mark.parametrize(
    ("masses", "asked"),
    [
        ([82.0, 82.4, 28.4, 82.6], [4]),  # asked by itself as well: nobody weighs that
        ([82.0, 82.4, 88.4, 82.6], [4]),
        ([28.9, 82.4, 82.6, 82.5], [2]),
        ([82.0, 86.0, 82.0, 86.0], []),
        ([82.0, 82.1, 92.0, 92.2, 92.1], [4]),  # a new level is asked about once
        ([182.0, 82.4, 82.6, 82.5], [2]),
    ],
)
def test_25_only_the_mass_that_jumps_is_asked_about(club, masses, asked):
    rows = "".join(f"2026-03-{2 + 7 * i:02},Lee Pound,,,kg,,{m}\n" for i, m in enumerate(masses))
    batch = read_in(club, LOG + rows)
    assert [n for n, s, _ in outcome(batch) if s == "ask"] == asked, outcome(batch)


def test_25_a_mass_is_held_against_those_in_the_log(club):
    ada = club.athletes["ada"]
    TrainingDay.objects.create(athlete=ada, day="2026-03-01", mass_typed="66", mass_unit="kg", mass_kg=66)
    batch = read_in(club, LOG + f"{DAY},Ada Fell,,,kg,,96\n")
    assert [s for _, s, _ in outcome(batch)] == ["ask"]


def test_25_after_a_long_time_away_a_change_is_not_asked_about(club):
    batch = read_in(club, LOG + f"2025-03-04,Lee Pound,,,,,82 kg\n{DAY},Lee Pound,,,,,92 kg\n")
    assert [s for _, s, _ in outcome(batch)] == ["ok", "ok"]


def test_masses_that_may_be_pounds_are_asked_about_for_the_file(club):
    text = LOG + "".join(f"2026-03-{2 + i:02},Lee Pound,DL,140,kg,3,18{i}\n" for i in range(4))
    text = text.replace(",unit,", ",units of load,").replace(",kg,", ",,")
    batch = read_in(club, text)
    assert {s for _, s, _ in outcome(batch)} == {"ask"} and "mass-unit|file" in batch.options["questions"]
    batch = read_in(club, text, answers={"mass-unit|file": "lb", "unit|file": "kg"})
    taken(batch)
    assert weighed()[0][2:] == (81.6, "180", "lb")
    batch = read_in(club, text.replace("2026", "2025"), answers={"mass-unit|file": "leave-out", "unit|file": "kg"})
    taken(batch)
    assert len(weighed()) == 4 and LiftSet.objects.count() == 8


def test_a_line_with_a_set_that_is_none_and_a_mass_gives_the_mass(club):
    batch = read_in(club, LOG + f"{DAY},Ada Fell,DL,e200,kg,1,66 kg\n")
    assert [s for _, s, _ in outcome(batch)] == ["guess"]
    assert "left out: “e200”: an estimate is not a lift" in outcome(batch)[0][2]
    taken(batch)
    assert LiftSet.objects.count() == 0 and [w[2] for w in weighed()] == [66.0]


def test_a_line_that_waits_for_its_set_keeps_its_mass_waiting(club):
    batch = read_in(club, LOG + f"{DAY},Ada Fell,DL,17O,kg,1,66 kg\n")
    assert [s for _, s, _ in outcome(batch)] == ["ask"]
    taken(batch)
    assert weighed() == []


def test_25_too_many_jumps_are_asked_a_page_at_a_time(club, monkeypatch):
    monkeypatch.setattr("athletes.importing.comparing.compare_bodies.MOST_QUESTIONS", 5)
    days = [f"2026-{1 + i // 28:02d}-{1 + i % 28:02d}" for i in range(40)]
    lines = [f"{day},Ada Fell,DL,140,kg,3,{60 + 30 * (i % 2)} kg\n" for i, day in enumerate(days)]
    batch = read_in(club, LOG + "".join(lines))
    assert len(batch.options["questions"]) == 5
    waiting = [row for row in batch.rows.all() if row.status == "ask"]
    assert len(waiting) > 5 and all("more than 5 % a week" in row.reason for row in waiting)
