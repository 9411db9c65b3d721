"""Row forms of old logs, 25 to 40: body mass, effort, names of lifts, heights, kit, bars, days, totals, encodings."""

import pytest

from athletes.models import Athlete
from tests.athletes.importing.import_steps import outcome, read_in, sets_in
from tests.athletes.importing.row_forms import DAY, HEAD, one


@pytest.fixture
def club(cast):
    for name in ("José Nunez", "Zoë Lind", "Al Smith", "Adam Smith", "Ana Roca"):
        Athlete.objects.create(club=cast.quarry, name=name, sex="f")
    Athlete.objects.create(club=cast.quarry, name="Lee Pound", sex="m")
    return cast


def test_25_a_column_of_body_mass_is_left_aside(club):
    batch = read_in(club, "date,lifter,lift,weight,unit,bodyweight\n" + DAY + "DL,180,kg,28.4\n")
    assert batch.options["mapping"][5] == "body_mass"
    assert "28.4" not in str(sets_in(batch))


@pytest.mark.parametrize(
    ("typed", "low", "high"),
    [
        ("8.5", 1.5, 1.5),
        ('"@8,5"', 1.5, 1.5),
        ("RPE8-9", 1, 2),
        ("8.5-9", 1, 1.5),
        ("RIR 1-2", 1, 2),
        ("easy", None, None),
        ("++", None, None),
    ],
)
def test_26_effort_is_a_range_and_words_stay_words(club, typed, low, high):
    batch = read_in(club, "date,lifter,lift,weight,unit,rpe\n" + DAY + f"DL,180,kg,{typed}\n")
    found = sets_in(batch)[0]
    assert (found["rir_low"], found["rir_high"]) == (low, high)
    assert found["effort_typed"] == typed.strip('"')


@pytest.mark.parametrize(
    ("name", "style"),
    [
        ("sumo dl", "sumo"),
        ("SDL", "sumo"),
        ("Sumo", "sumo"),
        ("DL(s)", ""),
        ("conv", "conventional"),
        ("CDL", "conventional"),
        ("DL", ""),
        ("deads", ""),
        ("KH", ""),
        ("Kreuzheben", ""),
        ("soulevé", ""),
        ("soulevé de terre", ""),
        ("peso muerto", ""),
        ("wide sumo deadlift", "wide-sumo"),
        ("Deadlift (conventional)", "conventional"),
        ("становая тяга", ""),
    ],
)
def test_27_names_of_the_deadlift_in_several_languages(club, name, style):
    found = sets_in(read_in(club, HEAD + DAY + f"{name},180,kg,1,1,,\n"))[0]
    assert (found["lift"], found.get("style", "")) == ("deadlift", style)


@pytest.mark.parametrize(
    ("name", "start", "cm"),
    [
        ('"deadlift 4"" block"', "block", 10.16),
        ("rack pull below knee", "block", 0),
        ("10cm blocks", "block", 10),
        ("2in deficit deadlift", "deficit", 5.08),
    ],
)
def test_28_a_raised_start_never_enters_as_a_floor_pull(club, name, start, cm):
    found = sets_in(read_in(club, HEAD + DAY + f"{name},180,kg,1,1,,\n"))[0]
    assert found["start"] == start
    assert found.get("start_cm", 0) == pytest.approx(cm)


@pytest.mark.parametrize(
    ("name", "kit"),
    [
        ("DL + straps", {"straps": True}),
        ("DL w/ straps", {"straps": True}),
        ("DL str", {"straps": True}),
        ("DL no belt", {"belt": False}),
        ("DL beltless", {"belt": False}),
        ("DL belt", {"belt": True}),
    ],
)
def test_29_kit_inside_a_name(club, name, kit):
    found = sets_in(read_in(club, HEAD + DAY + f"{name},180,kg,1,1,,\n"))[0]
    assert {k: found.get(k) for k in kit} == kit


@pytest.mark.parametrize(
    ("bar", "kind"), [("DL bar", "flexible"), ("whippy", "flexible"), ("stiff", "stiff"), ("SQ bar", "squat-bar")]
)
def test_30_bars(club, bar, kind):
    batch = read_in(club, "date,lifter,lift,weight,unit,bar\n" + DAY + f"DL,180,kg,{bar}\n")
    assert sets_in(batch)[0]["bar_kind"] == kind


def test_30_a_bar_nobody_knows_is_asked_about_and_remembered(club):
    text = "date,lifter,lift,weight,unit,bar\n" + DAY + "DL,180,kg,comp bar\n"
    assert "bar|comp bar" in read_in(club, text).options["questions"]
    read_in(club, text, answers={"bar|comp bar": "stiff"})
    assert sets_in(read_in(club, text))[0]["bar_kind"] == "stiff"


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ("04.03.26", "2026-03-04"),
        ("Mar 4 2026", "2026-03-04"),
        ("4 mars 2026", "2026-03-04"),
        ("Wed 4 Mar 2026", "2026-03-04"),
        ("46085", "2026-03-04"),
        ("2026-03-04T23:30:00Z", "2026-03-04"),
    ],
)
def test_31_dates_in_words_points_and_day_numbers(club, typed, day):
    batch = read_in(club, HEAD + f"{typed},Ada Fell,DL,180,kg,1,1,,\n")
    assert [s["day"] for s in sets_in(batch)] == [day], one(batch).reason


@pytest.mark.parametrize(
    ("typed", "question"), [("4.3.", "year"), ("4 mars", "year"), ("W3D2", "block-start"), ("Wed", None)]
)
def test_31_a_date_that_is_not_whole_is_asked_about(club, typed, question):
    batch = read_in(club, HEAD + f"{typed},Ada Fell,DL,180,kg,1,1,,\n")
    assert one(batch).status == "ask"
    assert question is None or f"{question}|file" in batch.options["questions"]


def test_33_totals_blank_lines_and_headings_again_are_listed_as_skipped(club):
    batch = read_in(club, HEAD + DAY + "sumo,180,kg,1,1,,\n\n" + HEAD + "TOTAL,,,12450\n")
    assert [s for _, s, _ in outcome(batch)] == ["ok", "skip", "skip", "skip"]
    assert all(reason for _, status, reason in outcome(batch) if status == "skip")


def test_34_merged_cells_fill_down_but_not_across_a_blank_line(club):
    text = HEAD + DAY + "sumo,180,kg,1,1,,\n,,,190,kg,1,1,,\n\n,,,200,kg,1,1,,\n"
    batch = read_in(club, text)
    assert [s for _, s, _ in outcome(batch)] == ["ok", "guess", "skip", "ask"]
    assert sets_in(batch)[1]["day"] == "2026-03-04"
    assert "taken from line 2" in outcome(batch)[1][2]


def test_35_the_typed_pounds_stay_beside_the_kilograms(club):
    found = sets_in(read_in(club, HEAD + DAY + "DL,562,lb,1,1,,\n"))[0]
    assert (found["load_typed"], found["load_unit"], round(found["load_kg"], 1)) == ("562", "lb", 254.9)


@pytest.mark.parametrize("cell", ["e200", "200 (est)", "calc 200"])
def test_36_a_typed_estimate_is_no_lift(club, cell):
    batch = read_in(club, HEAD + DAY + f"DL,{cell},kg,1,1,,\n")
    assert (one(batch).status, "estimate" in one(batch).reason) == ("skip", True)


def test_36_a_column_of_estimates_is_left_aside(club):
    batch = read_in(club, "date,lifter,1RM (est),lift,weight,unit\n2026-03-04,Ada Fell,210,DL,180,kg\n")
    assert [s["load_kg"] for s in sets_in(batch)] == [180.0]


@pytest.mark.parametrize("typed", ["2062-03-04", "1926-03-04", "2026-02-30"])
def test_38_days_that_cannot_be_are_refused_with_the_reason(club, typed):
    batch = read_in(club, HEAD + f"{typed},Ada Fell,DL,180,kg,1,1,,\n")
    assert (one(batch).status, typed in one(batch).reason) == ("skip", True)


def test_39_a_note_is_text(club):
    text = (
        "date,lifter,lift,weight,unit,note\n"
        + DAY
        + "DL,180,kg,<script>alert(1)</script>\n"
        + DAY
        + 'DL,180,kg,"=HYPERLINK(""x"")"\n'
    )
    assert [s["note"] for s in sets_in(read_in(club, text))] == ["<script>alert(1)</script>", '=HYPERLINK("x")']


TABLE = (
    "date;lifter;lift;weight;unit\n2026-03-04;José Nunez;Soulevé de terre;182,5;kg\n2026-03-05;José Nunez;DL;185;kg\n"
)


@pytest.mark.parametrize(
    "content",
    [
        TABLE.encode("utf-16"), TABLE.encode("utf-16-le"), TABLE.encode("latin-1"), TABLE.encode("utf-8-sig"),
        TABLE.replace("\n", "\r").encode(), TABLE.replace("\n", "\r\n").encode(), TABLE.replace(";", "\t").encode(),
        TABLE.replace(";", "|").encode("cp1252"), ("sep=;\n" + TABLE).encode(), TABLE.encode("mac_roman"),
    ],
)  # fmt: skip
def test_40_encodings_line_ends_and_separators(club, content):
    assert [s["load_kg"] for s in sets_in(read_in(club, content))] == [182.5, 185.0]
