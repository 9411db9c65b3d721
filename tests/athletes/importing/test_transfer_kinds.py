"""The kinds behind the forty row forms: other languages, separators, shapes and orders than the forms themselves.

Each line says what a careful tool does: read, read with a guess that is shown, asked about, or skipped with a reason.
"""

import pytest

from athletes.models import Athlete
from tests.athletes.importing.import_steps import outcome, read_in, sets_in

HEAD = "date,lifter,lift,weight,unit,sets,reps,rpe,result,note\n"
DAY = "2026-03-04,Ada Fell,"
QUICK = pytest.mark.parametrize


@pytest.fixture
def club(cast):
    for name in ("José Nunez", "Zoë Lind", "Al Smith", "Adam Smith", "Max Stone"):
        Athlete.objects.create(club=cast.quarry, name=name, sex="m")
    return cast


def of_cell(club, cell: str, lift: str = "conv"):
    """Standing, reason and sets of a line whose sets stand in one cell."""
    quoted = '"' + cell.replace('"', '""') + '"'
    batch = read_in(club, f"date,lifter,lift,set\n{DAY}{lift},{quoted}\n")
    [(_, status, reason)] = outcome(batch)
    return status, reason, [(s["load_kg"], s["reps_made"], s["reps_tried"], s["result"]) for s in sets_in(batch)]


def made(load, *reps):
    return [(float(load), r, r, "made") for r in reps]


CLEAR = [
    ("3x5@180kg RPE8", made(180, 5, 5, 5)), ("3×5 @ 180kg", made(180, 5, 5, 5)), ("5x3 180 kg", made(180, *[3] * 5)),
    ("2 sets of 5 at 100kg", made(100, 5, 5)), ("3 Sätze à 5 Wdh mit 180 kg", made(180, 5, 5, 5)),
    ("3 séries de 5 à 180 kg", made(180, 5, 5, 5)), ("3 series de 5 con 180kg", made(180, 5, 5, 5)),
    ("3 serie da 5 con 180 kg", made(180, 5, 5, 5)), ("3 sets van 5 met 180 kg", made(180, 5, 5, 5)),
    ("3 sets x 5 reps x 180kg", made(180, 5, 5, 5)), ("3s5r 180kg", made(180, 5, 5, 5)),
    ("4x(100kgx5)", made(100, *[5] * 4)), ("100kg x 5, 5, 4", made(100, 5, 5, 4)), ("100kgx5,5,4", made(100, 5, 5, 4)),
    ("100kg 5 5 4", made(100, 5, 5, 4)), ("100kg: 5/5/4", made(100, 5, 5, 4)), ("100kg 5-5-4", made(100, 5, 5, 4)),
    ("5@100kg, 3@120kg, 1@140kg", [*made(100, 5), *made(120, 3), *made(140, 1)]),
    ("60kgx5 → 100kgx3", [*made(60, 5), *made(100, 3)]), ("60kgx5/100kgx3", [*made(60, 5), *made(100, 3)]),
    ("60kgx5 und 100kgx3", [*made(60, 5), *made(100, 3)]), ("60kgx5 - 100kgx3", [*made(60, 5), *made(100, 3)]),
    ("60kgx5\n100kgx3", [*made(60, 5), *made(100, 3)]), ("x5 @ 180kg", made(180, 5)), ("180kg x5r", made(180, 5)),
    ("180 kg 3 Wdh", made(180, 3)), ("180 кг x 5", made(180, 5)), ("180公斤 x 5", made(180, 5)),
    ("180キロ 5回", made(180, 5)), ("１８０ｋｇ×５", made(180, 5)), ("١٨٠kg x ٥", made(180, 5)),
    ("180kg*5*3", made(180, 3, 3, 3, 3, 3)), ("180kg for 5", made(180, 5)), ("180kg x 5 75%", made(180, 5)),
    ("180kg (397lb) x 2", made(180, 2)), ("100kg/220lb x 2", made(100, 2)), ("180kg x 8+", made(180, 8)),
    ("185kg ✔", made(185, 1)), ("185kg gültig", made(185, 1)), ("200kg x 1 PR!", made(200, 1)),
    ("180kg x 3 w/ belt", made(180, 3)), ("180kg x 3 + straps", made(180, 3)), ("180kg x 3 (felt easy)", made(180, 3)),
    ("180kgx5 e1rm 210", made(180, 5)), ("180kg x 5 (est 210)", made(180, 5)), ("top 180kg x1", made(180, 1)),
]  # fmt: skip


@QUICK(("cell", "sets"), CLEAR)
def test_sets_in_one_cell_that_can_be_read(club, cell, sets):
    status, reason, found = of_cell(club, cell)
    assert status in ("ok", "guess") and found == sets, reason
    assert status == "ok" or reason


MISSED = [
    ("180kg (miss)", 0, 1, "missed"), ("nope 200kg", 0, 1, "missed"), ("miss 200kg", 0, 1, "missed"),
    ("F 200kg", 0, 1, "missed"), ("❌ 200kg", 0, 1, "missed"), ("✗200kg", 0, 1, "missed"), ("X200kg", 0, 1, "missed"),
    ("200 kg ungültig", 0, 1, "missed"), ("200kg raté", 0, 1, "missed"), ("200kg fallo", 0, 1, "missed"),
    ("200kg mislukt", 0, 1, "missed"), ("200kg spalone", 0, 1, "missed"), ("200kg no lift", 0, 1, "no-lift"),
    ("200kg NL", 0, 1, "no-lift"), ("−200kg", 0, 1, "missed"), ("180kg x 2+f", 2, 3, "missed"),
    ("180kg x 0", 0, 1, "missed"), ("180kg x 5 fail", 4, 5, "missed"),
]  # fmt: skip


@QUICK(("cell", "done", "tried", "result"), MISSED)
def test_misses_in_many_words(club, cell, done, tried, result):
    status, reason, found = of_cell(club, cell)
    assert status in ("ok", "guess"), reason
    assert [(s[1], s[2], s[3]) for s in found] == [(done, tried, result)]


ASKED = [
    ("180kg/5/3", "cannot be read"), ("100kg 5 5", "sets and reps?"), ("180kg x 5 (8)", "sets and reps?"),
    ("180kg x 3-5", "which number is the load"), ("BW+20kg x 5", "adds to body mass"), ("180kg-", "ends with a dash"),
    ("(200kg)", "in brackets"), ("[200kg]", "in brackets"), ("2x20kg + bar", "cannot be read"),
    ("180+20", "cannot be read"), ("red plates", "cannot be read"), ("60kg/side", "cannot be read"),
    ("180-190kg x 3", "which number is the load"), ("180,185,190", "more than 700 kg"), ("~200kg", "cannot be read"),
    ("200kg?", "cannot be read"), ("200kg xxo", "cannot be read"), ("180kg x -1", "which number"),
    ("180kg x 5.5", "which"),
    ("0 kg x 5", "load of 0"), ("0.8 kg x 3", "less than any bar"), ("1000kg x 1", "more than 700 kg"),
    ("180 000", "cannot be read"), ("180kg x 100", "which number"), ("5", "no load"), ("75% x 5", "share of a max"),
    ("180kg x 5 -> 210", "cannot be read"), ("180 kg @ 0.35 m/s", "cannot be read"), ("180kg 2+1+1", "cannot be read"),
    ("injured", "cannot be read"), ("=100+80", "formula"), ("180kg x 3 from blocks", "cannot be read"),
    ("180kg x AMRAP", "cannot be read"), ("180kg x 3 assisted", "cannot be read"), ("3x180kg band", "cannot be read"),
]  # fmt: skip


@QUICK(("cell", "says"), ASKED)
def test_what_may_mean_two_things_is_asked_about(club, cell, says):
    status, reason, found = of_cell(club, cell)
    assert (status, found) == ("ask", []) and says in reason, reason


@QUICK(
    ("cell", "question", "answered", "sets"),
    [
        ("(200kg)", "brackets", "missed", [(200.0, 0, 1, "missed")]),
        ("(200kg)", "brackets", "made", made(200, 1)),
        ("200kg-", "dash", "missed", [(200.0, 0, 1, "missed")]),
        ("5x180kg", "times-load", "sets", made(180, 1, 1, 1, 1, 1)),
        ("5x180kg", "times-load", "reps", made(180, 5)),
    ],
)
def test_an_answer_for_the_file_settles_a_mark(club, cell, question, answered, sets):
    batch = read_in(club, f"date,lifter,lift,set\n{DAY}conv,{cell}\n", answers={f"{question}|file": answered})
    assert [(s["load_kg"], s["reps_made"], s["reps_tried"], s["result"]) for s in sets_in(batch)] == sets
    assert f"{question}|file" in batch.options["questions"]


COLUMNS = [
    # weight, unit, sets, reps, rpe, result, note -> standing, part of the reason, reps made
    (("180", "kg", "1", "5,5,4"), "ask", "3 sets here, 1 in the column", []),
    (("180", "kg", "3", "5,5,4"), "guess", "read as 3 sets", [5, 5, 4]),
    (("180", "kg", "", "5/5/4"), "guess", "read as 3 sets", [5, 5, 4]),
    (("180", "kg", "", "8+"), "guess", "read as 8 reps", [8]),
    (("180", "kg", "3", "5x3"), "ask", "5 sets here, 3 in the column", []),
    (("180 kg x 3", "kg", "1", "5"), "ask", "which one holds?", []),
    (("2x90", "kg", "", "1"), "ask", "which one holds?", []),
    (("180, 185", "kg", "", "3"), "ok", "", [3, 3]),
    (("180/185/190", "kg", "", "3"), "ask", "cannot be read", []),
    (("180", "kg", "3", "0"), "guess", "0 reps: read as a missed single", [0, 0, 0]),
    (("180", "kg", "1", "-3"), "ask", "not a number of reps", []),
    (("180", "kg", "0", "3"), "ask", "not a number of sets", []),
    (("180", "kg", "3", "5 (4)"), "ask", "which one was it?", []),
    (("0", "kg", "1", "1"), "ask", "a load of 0", []),
    (("20", "kg", "1", "5"), "ok", "", [5]),
    (("180kg", "lb", "1", "1"), "guess", "taken as kg", [1]),
    (("180", "stone", "1", "1"), "ask", "neither kg nor lb", []),
    (("180*", "kg", "1", "3"), "ok", "", [3]),
    (("180F", "kg", "1", "1", "", "ok"), "ask", "which one holds?", []),
    (("180", "kg", "1", "1", "8/10"), "ok", "", [1]),
    (("180", "kg", "1", "1", "", "nope"), "ok", "", [0]),
    (("180", "kg", "1", "1", "", "WWR"), "ok", "", [1]),
    (("180", "kg", "1", "1", "", "red red white"), "ask", "mean as a result", []),
    (("180", "kg", "1", "1", "", "", "missed at the knee"), "ask", "made or missed?", []),
    (("180", "kg", "1", "1", "", "ok", "missed lunch"), "ok", "", [1]),
    (("180", "kg", "1", "1", "", "", "from 4 inch blocks"), "guess", "start taken from the note", [1]),
    (("180", "kg", "1", "1", "", "", "forgot my belt"), "ok", "", [1]),
    (("", "kg", "1", "5"), "ask", "has no load beside it", []),
]  # fmt: skip


@QUICK(("cells", "status", "says", "reps"), COLUMNS)
def test_columns_that_agree_or_contradict(club, cells, status, says, reps):
    quoted = ",".join('"' + c + '"' for c in cells)
    batch = read_in(club, HEAD + DAY + f"DL,{quoted}\n")
    [(_, standing, reason)] = outcome(batch)
    assert (standing, [s["reps_made"] for s in sets_in(batch)]) == (status, reps), reason
    assert says in reason


def test_a_raised_start_in_a_note_keeps_out_of_the_floor_best(club):
    batch = read_in(
        club, HEAD + DAY + "DL,180,kg,1,1,,ok,2 inch deficit\n" + DAY + "DL,180,kg,1,1,,ok,missed the cue\n"
    )
    assert [(s.get("start"), round(s.get("start_cm", 0), 2)) for s in sets_in(batch)] == [("deficit", 5.08), (None, 0)]


DATES = [
    "2026-W10-3", "Wed 4 March 2026", "4th of March, 2026", "March 4th 2026", "mar. 4 mars 2026",
    "mercredi 4 mars 2026",
    "4 de marzo de 2026", "miércoles, 4 de marzo de 2026", "quarta-feira, 4 de março de 2026", "4 marzo 2026",
    "Mittwoch, 4. März 2026", "Mi, 4.3.2026", "4 maart 2026", "4 marca 2026", "środa 4 marca 2026", "4 марта 2026",
    "2026年3月4日", "2026. 03. 04.", "4. 3. 2026", "2026_03_04", "04MAR2026", "04-Mar-26", "2026-03-04T18:30:00+02:00",
    "Wed Mar 04 2026 18:30:00 GMT+0100", "4 mars 2026 kl. 18", "2026-03-04 (Wed)", "46085.75", "20260304",
]  # fmt: skip


@QUICK("typed", DATES)
def test_days_in_many_languages_and_shapes(club, typed):
    batch = read_in(club, f'date,lifter,lift,weight,unit,reps\n"{typed}",Ada Fell,DL,180,kg,1\n')
    assert [s["day"] for s in sets_in(batch)] == ["2026-03-04"], outcome(batch)


@QUICK(
    ("typed", "status", "says"),
    [
        ("3/4/2026 18:30", "ask", "day or the month first"), ("2026-W10", "ask", "names a week"),
        ("March 2026", "ask", "names a month"), ("Tues 3rd March", "ask", "no year"), ("18:30:00", "ask", "not a date"),
        ("yesterday", "ask", "not a date"), ("2026-13-01", "skip", "calendar"), ("0000-00-00", "skip", "calendar"),
        ("2569-03-03", "skip", "future"), ("3-4 March 2026", "ask", "not a date"), ("1772496000", "ask", "not a date"),
    ],
)  # fmt: skip
def test_days_that_are_none_say_why(club, typed, status, says):
    batch = read_in(club, f'date,lifter,lift,weight,unit,reps\n"{typed}",Ada Fell,DL,180,kg,1\n')
    [(_, standing, reason)] = outcome(batch)
    assert standing == status and says in reason


def test_a_year_of_two_digits_may_stand_first_and_then_it_is_asked(club):
    rows = "".join(f"26/03/{d:02},Ada Fell,DL,180,kg,1\n" for d in (4, 11, 18))
    text = "date,lifter,lift,weight,unit,reps\n" + rows
    assert {s for _, s, _ in outcome(read_in(club, text))} == {"ask"}
    batch = read_in(club, text, answers={"date-order|file": "ymd"})
    assert [s["day"] for s in sets_in(batch)] == ["2026-03-04", "2026-03-11", "2026-03-18"]
    european = text.replace("26/03/04", "25/03/26").replace("26/03/11", "26/03/26").replace("26/03/18", "27/03/26")
    assert [s["day"] for s in sets_in(read_in(club, european))] == ["2026-03-25", "2026-03-26", "2026-03-27"]


NAMES = [
    ("Sumo-KH", "sumo"), ("KH konv.", "conventional"), ("soulevé de terre sumo", "sumo"), ("SDT conv", "conventional"),
    ("peso muerto convencional", "conventional"), ("stacco sumo", "sumo"), ("terra sumo", "sumo"),
    ("martwy ciąg klasyczny", "conventional"), ("становая тяга сумо", "sumo"), ("デッドリフト", ""), ("SUDL", "sumo"),
]  # fmt: skip


@QUICK(("name", "style"), NAMES)
def test_styles_in_more_languages(club, name, style):
    [found] = sets_in(read_in(club, HEAD + DAY + f"{name},180,kg,1,1,,ok,\n"))
    assert (found["lift"], found.get("style", "")) == ("deadlift", style)


@QUICK("name", ["rumänisches Kreuzheben", "soulevé de terre roumain", "peso muerto rumano", "stacco rumeno", "RDLs"])
def test_the_soft_knee_hinge_is_no_deadlift_in_any_language(club, name):
    [found] = sets_in(read_in(club, HEAD + DAY + f"{name},100,kg,1,8,,ok,\n"))
    assert found["lift"] == "romanian" and not found.get("style")


@QUICK(
    ("kit", "belt", "straps"),
    [
        ("belt: no", False, None), ("w/o straps", None, False), ("sans ceinture", False, None),
        ("ohne Gürtel", False, None),
        ("sin correas", None, False), ("Gürtel + Zughilfen", True, True), ("belt: yes", True, None),
    ],
)  # fmt: skip
def test_kit_that_was_not_worn_is_not_worn(club, kit, belt, straps):
    batch = read_in(club, f"date,lifter,lift,weight,unit,reps,kit\n{DAY}DL,180,kg,1,{kit}\n")
    [found] = sets_in(batch)
    assert (found.get("belt"), found.get("straps")) == (belt, straps)


@QUICK(
    "name", ["Fell Ada", "Ada", "A. Fell", "A.F.", "Аda Fell", "Ada Fell (guest)", "Ada Fell/Max Stone", "JosÃ© Nunez"]
)
def test_names_short_of_the_same_are_asked_about(club, name):
    batch = read_in(club, HEAD + f"2026-03-04,{name},DL,180,kg,1,1,,ok,\n")
    assert [s for _, s, _ in outcome(batch)] == ["ask"]


def test_a_lifter_called_like_a_summary_is_no_summary(club):
    batch = read_in(club, "lifter,date,lift,weight,unit,reps\nMax Stone,2026-03-04,DL,180,kg,1\nMax,,,180,,\n")
    assert [s for _, s, _ in outcome(batch)] == ["ok", "skip"]


@QUICK(
    "cell",
    [
        "9" * 36 + "block", "13.13.2026" * 4 + "W3D2", "04/03/2026" * 4 + "deficit", "1x" * 2000, "3x5@" * 800,
        "10 x 10 x " * 300, "1 " * 2000, "so" * 1500, "w/ " * 900, "180kg x 5 " * 200, "(" * 1500, "l" * 3000,
    ],
)  # fmt: skip
def test_no_cell_keeps_the_reader_busy(club, cell):
    """Patterns that try every way to cut a long cell would never come back from these."""
    status, reason, found = of_cell(club, cell)
    assert (status, found) == ("ask", []) and reason
    batch = read_in(club, f"date,lifter,lift,{cell[:400]},weight,unit\n{DAY}{cell},{cell},180,kg\n")
    assert outcome(batch)[0][1] == "ask"
