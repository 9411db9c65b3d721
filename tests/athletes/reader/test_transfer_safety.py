"""Files that are no logs: refused early with a reason, never an error, always with line and column where "
"there is one."""

from pathlib import Path

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from athletes.importing.moving.outcome import sums
from athletes.models import ImportBatch
from athletes.reader.cells.dates import DateWays, read_date
from athletes.reader.cells.effort import read_effort
from athletes.reader.cells.lifts import read_kit, read_lift
from athletes.reader.cells.numbers import read_number
from athletes.reader.cells.results import read_result
from athletes.reader.cells.sets import read_reps, read_sets
from athletes.reader.names import People, Person
from athletes.reader.notes import Refused
from tests.athletes.importing.import_steps import outcome, read_in, sets_in

HEAD = "date,lifter,lift,weight,unit,sets,reps,rpe,result\n"
pieces = st.sampled_from(
    [
        "200",
        "180",
        "3x5",
        "@8",
        "F",
        "-200",
        "plates",
        "2+F",
        "3(2)",
        "e200",
        "✗",
        "x",
        "×",
        ",",
        ";",
        "182,5",
        "1.050,5",
        "RPE8-9",
        "RIR",
        "kg",
        "lb",
        "#",
        "04/03/2026",
        "13.13.2026",
        "5-Mar",
        "W3D2",
        "Ada",
        "Sumo",
        "DL",
        '4"',
        "block",
        "deficit",
        "straps",
        "=",
        "+",
        "'",
        '"',
        "'",
        "\ufeff",
        "\xa0",
        "\x00",
        "\u202e",
        "999999999999",
        "l80",
        "17O",
        "%",
    ]
)
typed = st.one_of(
    st.text(max_size=40), st.lists(pieces, max_size=6).map(" ".join), st.lists(pieces, max_size=6).map("".join)
)
quick = settings(deadline=None, max_examples=150, suppress_health_check=[HealthCheck.function_scoped_fixture])


@quick
@given(typed)
def test_every_reader_of_a_cell_answers(text):
    read_number(text, ",")
    read_date(text, DateWays("dmy", 2026))
    read_effort(text)
    read_lift(text)
    read_kit(text)
    read_result(text)
    read_sets(text)
    read_reps(text)
    People.of([Person(1, "Ada Fell", "kg")]).match(text, {})


@pytest.mark.django_db
@quick
@given(st.lists(st.lists(typed, max_size=10), max_size=8), st.sampled_from(",;\t|"))
def test_any_table_gets_a_standing_and_a_reason_for_every_line(cast, rows, separator):
    text = HEAD.replace(",", separator) + "\n".join(separator.join(row) for row in rows)
    try:
        batch = read_in(cast, text.encode("utf-8", "surrogatepass"))
    except Refused as problem:
        assert str(problem)
        return
    assert batch.status in ("ready", "refused")
    assert all(reason for _, status, reason in outcome(batch) if status in ("ask", "skip", "guess"))
    counts = sums(batch)
    assert counts["rows"] == counts["taken"] + counts["fixed"] + counts["skipped"]
    assert all(0 < one["load_kg"] <= 700 and 0 <= one["reps_made"] <= one["reps_tried"] for one in sets_in(batch))


@quick
@given(st.binary(max_size=400), st.sampled_from(["log.csv", "log.xlsx", "../../x", "a.b.c"]))
@pytest.mark.django_db
def test_random_bytes_are_answered_with_a_page(signed_in, content, name):
    answer = signed_in("stan").post(reverse("import-new"), {"file": SimpleUploadedFile(name, content)})
    assert answer.status_code in (302, 422)
    if answer.status_code == 302:
        assert signed_in("stan").get(answer.url).status_code == 200


def test_a_line_without_an_end_and_ten_thousand_columns_are_refused_with_their_place(cast):
    with pytest.raises(Refused, match=r"Line 1 goes on past column 1,000,000"):
        read_in(cast, b"a" * 5_000_000)
    with pytest.raises(Refused, match=r"Line 2 has 10,000 columns"):
        read_in(cast, HEAD.encode() + b"," * 9_999)


def test_a_quotation_mark_that_is_never_closed_swallows_nothing(cast):
    rows = "".join(f"2026-03-{d:02},Ada Fell,sumo,180,kg,1,1,,\n" for d in range(1, 29)) * 3
    batch = read_in(cast, HEAD + '2026-02-01,Ada Fell,sumo,"180,kg,1,1,,\n' + rows)
    assert sums(batch)["rows"] == 85
    assert sums(batch)["taken"] == 84


def test_the_hidden_parts_of_a_name_do_not_leave_the_folder(cast, settings):
    read_in(cast, HEAD + "2026-03-04,Ada Fell,sumo,180,kg,1,1,,\n", "../../../../evil.csv")
    kept = Path(ImportBatch.objects.get().file.path).resolve()
    assert kept.is_relative_to(Path(settings.MEDIA_ROOT).resolve())
