"""How tables are laid out: headings anywhere, in many languages, several tables, turned ones, diaries, workbooks."""

import pytest
from django.urls import reverse

from tests.athletes.importing.import_steps import outcome, read_in, sets_in
from tests.athletes.importing.table_shapes import HEAD, ROW, ada, read, standings


@pytest.fixture
def club(cast):
    return cast


@pytest.mark.parametrize(
    "above", ["My training log 2026\n\nexported by hand\n", "Training log,,,,,\n", ",,,,,\n,,,,,\n", "sep=,\n"]
)
def test_headings_may_stand_further_down(club, above):
    batch = read_in(club, above + HEAD + ROW)
    assert read(batch) == [("Ada Fell", "2026-03-04", 180.0, 3)]
    assert all(reason for _, _, reason in outcome(batch)[:-1])


HEADINGS = [
    "date;name;übung;gewicht (kg);sätze;wdh;rpe;ergebnis",
    "date;nom;exercice;charge (kg);séries;répétitions;rpe;résultat",
    "fecha;atleta;ejercicio;peso (kg);series;repeticiones;rpe;resultado",
    "data;atleta;esercizio;carico kg;serie;ripetizioni;rpe;risultato",
    "datum;naam;oefening;gewicht (kg);sets;herhalingen;rpe;resultaat",
    "data;atleta;exercício;carga kg;séries;repetições;rpe;",
    "data;zawodnik;ćwiczenie;ciężar (kg);serie;powtórzenia;rpe;wynik",
    "datum;lyftare;övning;vikt (kg);set;reps;rpe;resultat",
    "дата;спортсмен;упражнение;вес (кг);подходы;повторения;rpe;результат",
    "日付;選手;種目;重量 (kg);セット;回数;rpe;結果",
    "DATE;ATHLETE;EXERCISE;LOAD [kg];SETS;REPS;RPE;MADE?", "Date:;Lifter:;Lift:;Weight/kg;No. of sets;Rep;@;Outcome",
]  # fmt: skip


@pytest.mark.parametrize("heading", HEADINGS)
def test_headings_in_many_languages(club, heading):
    batch = read_in(club, f"{heading}\n2026-03-04;Ada Fell;sumo;182,5;3;5;8,5;\n")
    assert read(batch) == [("Ada Fell", "2026-03-04", 182.5, 5)] * 3, batch.options["mapping"]


def test_two_tables_side_by_side_are_two_peoples_sets(club):
    head = "date,lifter,lift,weight,unit,reps"
    text = f"{head},,{head}\n{ROW.strip()},,2026-03-05,Petra Moss,conv,150,kg,5\n{ROW.strip()},,,,,,,\n"
    batch = read_in(club, text)
    assert read(batch) == [
        ("Ada Fell", "2026-03-04", 180.0, 3), ("Petra Moss", "2026-03-05", 150.0, 5),
        ("Ada Fell", "2026-03-04", 180.0, 3),
    ]  # fmt: skip
    assert standings(batch) == ["ok", "ok"]


def test_two_lifts_in_one_line_share_day_and_lifter(club):
    text = "date,lifter,lift,weight (kg),reps,lift,weight (kg),reps\n2026-03-04,Ada Fell,sumo,180,3,squat,120,5\n"
    batch = read_in(club, text)
    assert [(s["lift"], s["load_kg"], s["reps_made"]) for s in sets_in(batch)] == [
        ("deadlift", 180.0, 3), ("squat", 120.0, 5),
    ]  # fmt: skip


def test_a_second_table_without_a_day_asks_and_takes_nothing_from_the_first(club):
    head = "date,lifter,lift,weight,unit,reps"
    batch = read_in(club, f"{head},{head}\n{ROW.strip()},,Petra Moss,conv,150,kg,5\n")
    assert standings(batch) == ["ask"] and "no date" in outcome(batch)[0][2]


DAYS_ACROSS = ",04/03/2026,11/03/2026,18/03/2026\nsumo,180kg x 3,185kg,-\nsquat,140kg x 5,145kg x 5,150kg x 5\n"


def test_days_across_ask_for_their_order_as_a_column_of_days_does(club):
    batch = read_in(club, DAYS_ACROSS.replace("18/03", "08/03"), athlete=ada(club))
    assert standings(batch) == ["ask", "ask"] and "date-order|file" in batch.options["questions"]
    batch = read_in(club, DAYS_ACROSS, athlete=ada(club))
    assert read(batch)[:2] == [("Ada Fell", "2026-03-04", 180.0, 3), ("Ada Fell", "2026-03-11", 185.0, 1)]
    assert len(sets_in(batch)) == 5 and "no reps: taken as a single" in outcome(batch)[0][2]


def test_loads_under_days_take_the_reps_of_their_line(club):
    batch = read_in(club, "lift,reps,2026-03-04,2026-03-11\nsumo,3,180kg,185kg\n", athlete=ada(club))
    assert read(batch) == [("Ada Fell", "2026-03-04", 180.0, 3), ("Ada Fell", "2026-03-11", 185.0, 3)]


def test_a_table_with_its_headings_in_the_first_column_is_turned(signed_in, club):
    text = "Date,2026-03-04,2026-03-11\nLifter,Ada Fell,Petra Moss\nLift,sumo,conv\nWeight (kg),180,150\nReps,3,5\n"
    batch = read_in(club, text)
    assert read(batch) == [("Ada Fell", "2026-03-04", 180.0, 3), ("Petra Moss", "2026-03-11", 150.0, 5)]
    page = signed_in("stan").get(reverse("import", args=[batch.pk])).content.decode()
    assert "each column is read as a line" in page


def test_two_lines_of_headings_are_read_together(club):
    text = "Date,Lifter,Deadlift,,Squat,\n,,kg,reps,kg,reps\n2026-03-04,Ada Fell,180,3,140,5\n"
    batch = read_in(club, text)
    assert [(s["lift"], s["load_kg"], s["reps_made"]) for s in sets_in(batch)] == [
        ("deadlift", 180.0, 3), ("squat", 140.0, 5),
    ]  # fmt: skip
    text = "Date,Who,What,Load,,Volume,\n,,,,unit,sets,reps\n2026-03-04,Ada Fell,sumo,180,kg,2,3\n"
    assert read(read_in(club, text)) == [("Ada Fell", "2026-03-04", 180.0, 3)] * 2


WIDE = [
    ("Set 1,Set 2,Set 3", "140kgx5,160kgx3,180kgx1", [(140, 5), (160, 3), (180, 1)]),
    ("Weight 1 (kg),Reps 1,Weight 2 (kg),Reps 2", "140,,160,3", [(140, 1), (160, 3)]),
    ("Weight (kg),Set 1 reps,Set 2 reps,Set 3 reps", "140,5,5,4", [(140, 5), (140, 5), (140, 4)]),
    ("Reps,kg,kg,kg", "5,140,150,160", [(140, 5), (150, 5), (160, 5)]),
    ("Deadlift kg,Deadlift reps,Squat kg,Squat reps", "180,3,140,5", [(180, 3), (140, 5)]),
    ("Deadlift (kg),Reps", "180,3", [(180, 3)]),
    ("Squat kg,Reps,Deadlift kg,Reps", "140,5,180,3", [(140, 5), (180, 3)]),
    ("kg,reps,RPE,kg,reps,RPE", "140,5,7,160,3,9", [(140, 5), (160, 3)]),
    ("DL1 (kg),DL2 (kg),DL3 (kg)", "170,180,-190", [(170, 1), (180, 1), (190, 0)]),
]  # fmt: skip


WIDE += [
    ("planned weight,actual weight (kg),target reps,reps", "190,180,5,3", [(180, 3)]),
    ("Weight (planned),Weight (kg),Reps", "190,180,3", [(180, 3)]),
    ("Weight (kg),Weight (lb),Reps", "180,396.8,3", [(180, 3)]),
    ("kg,lb,reps", "180,396.8,3", [(180, 3)]), ("Weight (kg),Bar weight,Reps", "180,20,3", [(180, 3)]),
    ("Set 1 (kg),Set 1 reps,Set 2 (kg),Set 2 reps", "180,3,185,2", [(180, 3), (185, 2)]),
    ("1,2,3", "140kgx5,160kgx3,180kgx1", [(140, 5), (160, 3), (180, 1)]), ("weight,,reps", "180,kg,3", [(180, 3)]),
    ("Workout,Weight (kg),Reps", "Day A,180,3", [(180, 3)]),
    ("Top set,Back off sets", "180kg x1,160kg 2x5", [(180, 1), (160, 5), (160, 5)]),
    ("Warm up,Work sets", "60kgx5 100kgx3,160kgx3", [(60, 5), (100, 3), (160, 3)]),
]  # fmt: skip


@pytest.mark.parametrize(("heading", "cells", "sets"), WIDE)
def test_columns_that_belong_together_stay_together(club, heading, cells, sets):
    batch = read_in(club, f"Date,Lifter,{heading}\n2026-03-04,Ada Fell,{cells}\n")
    assert [(s["load_kg"], s["reps_made"]) for s in sets_in(batch)] == sets, (batch.options["mapping"], outcome(batch))


def test_effort_stays_with_its_own_set(club):
    batch = read_in(club, "Date,Lifter,kg,reps,RPE,kg,reps,RPE\n2026-03-04,Ada Fell,140,5,7,160,3,9\n")
    assert [s["rir_low"] for s in sets_in(batch)] == [3.0, 1.0]


def test_a_single_that_nobody_called_one_is_shown_as_a_guess(club):
    for text in (
        "Date,Lifter,Deadlift (kg)\n2026-03-04,Ada Fell,180\n",
        "date,lifter,lift,kg\n2026-03-04,Ada Fell,DL,180\n",
    ):
        [(_, status, reason)] = outcome(read_in(club, text))
        assert status == "guess" and "no reps: taken as a single" in reason


def test_a_column_of_set_numbers_is_none_of_sets(club):
    numbered = "date,lifter,lift,set,load (kg),reps\n" + "".join(
        f"2026-03-04,Ada Fell,sumo,{n},18{n},3\n" for n in (1, 2, 3)
    )
    assert len(sets_in(read_in(club, numbered))) == 3
    counted = numbered.replace(",1,181", ",3,181").replace(",2,182", ",3,182")
    assert len(sets_in(read_in(club, counted))) == 9


@pytest.mark.parametrize(
    "text",
    [
        "date        lifter    lift  weight  reps\n2026-03-04  Ada Fell  sumo  180kg   3\n"
        "2026-03-05  Ada Fell  sumo  185kg   2\n",
        "| date | lifter | lift | weight | reps |\n|---|---|---|---|---|\n"
        "| 2026-03-04 | Ada Fell | sumo | 180kg | 3 |\n"
        "| 2026-03-05 | Ada Fell | sumo | 185kg | 2 |\n",
        "date\tlifter\tlift\tweight\treps\n2026-03-04\tAda Fell\tsumo\t180kg\t3\n"
        "2026-03-05\tAda Fell\tsumo\t185kg\t2\n",
        "date,lifter,lift,weight,reps\r\r\n2026-03-04,Ada Fell,sumo,180kg,3\r\r\n"
        "2026-03-05,Ada Fell,sumo,185kg,2\r\r\n",
        "date;lifter;lift;weight;reps\n2026-03-04;Ada Fell;sumo;180.0kg;3\n2026-03-05;Ada Fell;sumo;185.0kg;2\n",
    ],
)
def test_tables_written_in_other_ways(club, text):
    assert [s[2:] for s in read(read_in(club, text))] == [(180.0, 3), (185.0, 2)]


def test_a_cell_missing_in_a_list_lined_up_with_spaces_shifts_nothing(club):
    text = (
        "date        lifter    lift  weight  reps\n2026-03-04  Ada Fell        180kg   3\n"
        "2026-03-05  Ada Fell  sumo  185kg\nthis line does not keep to the columns\n"
    )
    batch = read_in(club, text)
    assert [(s.get("style"), s["load_kg"], s["reps_made"]) for s in sets_in(batch)] == [
        (None, 180.0, 3),
        ("sumo", 185.0, 1),
    ]
    assert standings(batch)[2] == "ask"


def test_a_diary_of_days_lifts_and_sets(club):
    text = "4 March 2026\nDeadlift (sumo)\n180kg x 3\n185kg x 2\nSquat\n140kg x 5\n\n5 March 2026\n190kg x 1\n"
    batch = read_in(club, text, athlete=ada(club))
    assert [(s["day"], s["lift"], s["load_kg"]) for s in sets_in(batch)] == [
        ("2026-03-04", "deadlift", 180.0), ("2026-03-04", "deadlift", 185.0), ("2026-03-04", "squat", 140.0),
        ("2026-03-05", "deadlift", 190.0),
    ]  # fmt: skip
    assert sets_in(batch)[0]["style"] == "sumo" and not sets_in(batch)[3].get("style")


def test_a_block_for_each_lifter(club):
    block = "Date,Lift,Weight,Reps\n2026-03-04,DL,{}kg,3\n"
    batch = read_in(club, "Ada Fell\n" + block.format(180) + "\nPetra Moss\n" + block.format(150))
    assert [s[::2] for s in read(batch)] == [("Ada Fell", 180.0), ("Petra Moss", 150.0)]


def test_a_mark_that_is_never_closed_does_not_swallow_the_lines_below(club):
    batch = read_in(club, HEAD + ROW.replace("Ada", '"Ada') + ROW)
    assert standings(batch) == ["ask", "ok"]


def test_lines_that_are_no_data_say_so(club):
    text = HEAD + ROW + "\nTotal,,,360,,6\nAverage:,,,180,,3\nsum of reps,,,,,6\n===,,,,,\n" + HEAD + "Gesamt,,,1,,\n"
    assert standings(read_in(club, text)) == ["ok", *["skip"] * 7]


def test_what_is_left_aside_is_said_on_the_page(signed_in, club):
    text = "date,lifter,lift,weight,unit,reps,volume,mood\n2026-03-04,Ada Fell,DL,180,kg,3,540,fine\n"
    page = signed_in("stan").get(reverse("import", args=[read_in(club, text).pk])).content.decode()
    assert "Left aside: volume, mood." in page


def test_a_file_of_headings_only_says_that_it_holds_no_lines(signed_in, club):
    page = signed_in("stan").get(reverse("import", args=[read_in(club, HEAD).pk])).content.decode()
    assert "nothing below them" in page
