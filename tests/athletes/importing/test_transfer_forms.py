"""The forty row forms that club logs are known to hold, each with what the tool does; numbers follow the list of
data-quality troubles in training logs that the project keeps (common practice, no source)."""

import pytest

from athletes.models import Athlete
from tests.athletes.importing.import_steps import outcome, read_in, sets_in
from tests.athletes.importing.row_forms import DAY, FREE, HEAD, one


@pytest.fixture
def club(cast):
    for name in ("José Nunez", "Zoë Lind", "Al Smith", "Adam Smith", "Ana Roca"):
        Athlete.objects.create(club=cast.quarry, name=name, sex="f")
    Athlete.objects.create(club=cast.quarry, name="Lee Pound", sex="m")
    return cast


def test_01_a_plain_table_is_clear(club):
    batch = read_in(club, HEAD + DAY + "sumo,180,kg,2,3,8.5,ok\n")
    assert [s for _, s, _ in outcome(batch)] == ["ok"]
    assert [(s["load_kg"], s["reps_made"], s["style"], s["rir_low"]) for s in sets_in(batch)] == [
        (180.0, 3, "sumo", 1.5)
    ] * 2


def test_02_semicolons_with_decimal_commas(club):
    text = "2026-03-04;José Nunez;Deadlift;182,5;kg;1;3;8,5;ok\n2026-03-05;José Nunez;Deadlift;185;kg;1;2;9;ok\n"
    batch = read_in(club, text)
    assert batch.options["format"]["separator"] == ";"
    assert batch.options["decimal"] == ","
    first = sets_in(batch)[0]
    assert (first["load_kg"], first["load_typed"], first["rir_low"]) == (182.5, "182,5", 1.5)


def test_03_an_open_order_of_day_and_month_is_asked_for_the_file(club):
    text = "date,lifter,lift,weight,unit\n04/03/2026,Ada Fell,DL,180,kg\n05/03/2026,Ada Fell,DL,185,kg\n"
    batch = read_in(club, text)
    assert {s for _, s, _ in outcome(batch)} == {"ask"}
    assert "date-order|file" in batch.options["questions"]
    batch = read_in(club, text, answers={"date-order|file": "mdy"})
    assert [s["day"] for s in sets_in(batch)] == ["2026-04-03", "2026-05-03"]


def test_04_one_day_above_twelve_settles_the_whole_column(club):
    text = "date,lifter,lift,weight,unit\n04/03/2026,Ada Fell,DL,180,kg\n13/03/2026,Ada Fell,DL,185,kg\n"
    assert [s["day"] for s in sets_in(read_in(club, text))] == ["2026-03-04", "2026-03-13"]


def test_04_a_column_that_contradicts_itself_is_asked_about_not_mixed(club):
    text = (
        "date,lifter,lift,weight,unit\n13/03/2026,Ada Fell,DL,180,kg\n03/14/2026,Ada "
        "Fell,DL,185,kg\n04/03/2026,Ada Fell,DL,185,kg\n"
    )
    batch = read_in(club, text)
    assert {s for _, s, _ in outcome(batch)} == {"ask"}
    batch = read_in(club, text, answers={"date-order|file": "dmy"})
    assert [s for _, s, _ in outcome(batch)] == ["guess", "skip", "guess"]
    assert "no reps: taken as a single" in outcome(batch)[0][2]


def test_05_a_date_in_a_column_of_reps_is_flagged(club):
    batch = read_in(club, "date,lifter,lift,weight,unit,reps\n" + DAY + "DL,140,kg,5-Mar\n")
    assert one(batch).status == "ask"
    assert "5-Mar" in one(batch).reason


def test_05_a_date_without_a_year_asks_for_the_year(club):
    text = "date,lifter,lift,weight,unit\n5-Mar,Ana Roca,DL,140,kg\n"
    batch = read_in(club, text)
    assert (one(batch).status, "no year" in one(batch).reason) == ("ask", True)
    assert sets_in(read_in(club, text, answers={"year|file": "2026"}))[0]["day"] == "2026-03-05"


FREE_FORMS = [
    # form, cell, (loads kg, reps made, reps tried, result) of each set
    ("06", "5x3@180kg", [(180.0, 3, 3, "made")] * 5),
    ("07", "415lb x 1 x 5", [(188.24, 5, 5, "made")]),
    ("08", "230kgx3@8.5", [(230.0, 3, 3, "made")]),
    ("09", "180kg 3x5 @8", [(180.0, 5, 5, "made")] * 3),
    ("11", "240kg@6", [(240.0, 1, 1, "made")]),
    ("12", "1@8 170kg", [(170.0, 1, 1, "made")]),
    ("13", "200kg F", [(200.0, 0, 1, "missed")]),
    ("13", "200kg x F", [(200.0, 0, 1, "missed")]),
    ("13", "200kg fail", [(200.0, 0, 1, "missed")]),
    ("13", "200kg miss", [(200.0, 0, 1, "missed")]),
    ("13", "X200kg", [(200.0, 0, 1, "missed")]),
    ("13", "200kg ✗", [(200.0, 0, 1, "missed")]),
    ("14", "-200kg", [(200.0, 0, 1, "missed")]),
    ("15", "180kg x 2+F", [(180.0, 2, 3, "missed")]),
    ("15", "180kg x 3(2)", [(180.0, 2, 3, "missed")]),
    ("17", "180 KG", [(180.0, 1, 1, "made")]),
    ("17", "180 Kgs", [(180.0, 1, 1, "made")]),
    ("17", "180k", [(180.0, 1, 1, "made")]),
    ("17", "180 kilos", [(180.0, 1, 1, "made")]),
    ("17", "180#", [(81.65, 1, 1, "made")]),
    ("22", "\u00a0180kg\u2009x\u00a03\u00a0", [(180.0, 3, 3, "made")]),
    ("more", '"180kg x 3, 190kg x 2"', [(180.0, 3, 3, "made"), (190.0, 2, 2, "made")]),
    ("more", "140kgx5 160kgx3 180kgx1", [(140.0, 5, 5, "made"), (160.0, 3, 3, "made"), (180.0, 1, 1, "made")]),
]


@pytest.mark.parametrize(("form", "cell", "expected"), FREE_FORMS)
def test_sets_written_in_one_cell(club, form, cell, expected):
    batch = read_in(club, FREE + DAY + f"conv,{cell}\n")
    assert one(batch).status in ("ok", "guess"), one(batch).reason
    read = [(round(s["load_kg"], 2), s["reps_made"], s["reps_tried"], s["result"]) for s in sets_in(batch)]
    assert read == expected


def test_06_the_other_order_of_sets_and_reps_can_be_answered(club):
    batch = read_in(club, FREE + DAY + "conv,5x3@180kg\n", answers={"sets-reps|file": "reps"})
    assert [s["reps_made"] for s in sets_in(batch)] == [5, 5, 5]


@pytest.mark.parametrize(
    ("form", "cell", "says"),
    [
        ("10", "@80% 3x3", "share of a max"),
        ("13", "200kg x", "cut short"),
        ("18", "4 plates", "plate"),
        ("21", "17O", "looks like 170"),
        ("21", "l80", "looks like 180"),
        ("21", "18o", "looks like 180"),
    ],
)
def test_what_cannot_be_known_is_asked_about(club, form, cell, says):
    batch = read_in(club, FREE + DAY + f"conv,{cell}\n")
    assert one(batch).status == "ask"
    assert says in one(batch).reason


@pytest.mark.parametrize(
    ("cell", "bar", "load", "unit"),
    [
        ("4 plates", "20-20-kg", "180", "kg"),
        ("4pl", "45-45-lb", "405", "lb"),
        ("3 plates + 10", "20-20-kg", "160", "kg"),
    ],
)
def test_18_plates_count_on_both_sides_of_the_answered_bar(club, cell, bar, load, unit):
    batch = read_in(club, FREE + DAY + f"conv,{cell}\n", answers={"plates|file": bar})
    assert [(s["load_typed"], s["load_unit"]) for s in sets_in(batch)] == [(load, unit)]


def test_16_numbers_of_pound_plates_in_a_kilogram_club_are_asked_about(club):
    text = "date,lifter,lift,weight\n" + DAY + "DL,405\n" + DAY + "DL,315\n"
    batch = read_in(club, text)
    assert {s for _, s, _ in outcome(batch)} == {"ask"}
    batch = read_in(club, text, answers={"unit|file": "lb"})
    assert [round(s["load_kg"], 1) for s in sets_in(batch)] == [183.7, 142.9]


def test_16_bare_kilograms_are_a_shown_guess(club):
    batch = read_in(club, "date,lifter,lift,weight\n" + DAY + "DL,182.5\n")
    assert (one(batch).status, "no unit in the file: kg" in one(batch).reason) == ("guess", True)


@pytest.mark.parametrize(("cell", "kg"), [('"1.050,5"', None), ('"1,050.5"', None), ('"182,5"', 182.5)])
def test_19_thousands_marks_are_understood_and_no_load_is_a_tonne(club, cell, kg):
    batch = read_in(club, "date,lifter,lift,weight,unit,tonnage\n" + DAY + f"DL,{cell},kg,{cell}\n")
    if kg is None:
        assert (one(batch).status, "more than 700 kg" in one(batch).reason) == ("ask", True)
    else:
        assert sets_in(batch)[0]["load_kg"] == kg


def test_20_a_comma_that_cut_a_number_is_reported_and_nothing_shifts(club):
    batch = read_in(club, "date,lifter,lift,weight,unit,reps\n" + DAY + "DL,182,5,kg,3\n" + DAY + "DL,180,kg,3\n")
    assert [s for _, s, _ in outcome(batch)] == ["ask", "ok"]
    assert "182,5 was cut in two" in outcome(batch)[0][2]


@pytest.mark.parametrize("name", ["Zo\u00eb Lind", "Zoe\u0308 Lind", "ZOË  LIND"])
def test_23_composed_and_decomposed_accents_are_the_same_name(club, name):
    batch = read_in(club, HEAD + f"2026-03-04,{name},sumo,180,kg,1,1,,\n")
    assert one(batch).status in ("ok", "guess")
    assert sets_in(batch)[0]["athlete"] == Athlete.objects.get(name="Zoë Lind").pk


@pytest.mark.parametrize("name", ['"Smith, Al"', "A. Smith", "al s", "JosÃ© Nunez", "Jose Nunez"])
def test_24_anything_short_of_the_same_name_is_asked_about(club, name):
    batch = read_in(club, HEAD + f"2026-03-04,{name},sumo,180,kg,1,1,,\n")
    assert one(batch).status == "ask"
    assert any(key.startswith("name|") for key in batch.options["questions"])


def test_24_two_people_of_one_name_stay_apart(club):
    twin = Athlete.objects.create(club=club.quarry, name="Al Smith", sex="m")
    text = HEAD + "2026-03-04,Al Smith,sumo,180,kg,1,1,,\n"
    assert one(read_in(club, text)).status == "ask"
    assert sets_in(read_in(club, text, answers={"name|al smith": str(twin.pk)}))[0]["athlete"] == twin.pk
