"""Tables of other kinds: what is refused by its kind, workbooks with every sort of cell, reasons that name a column."""

import io
import zipfile
from datetime import date, datetime, time

import pytest
from django.urls import reverse
from openpyxl import Workbook

from athletes.importing.moving.outcome import sums
from athletes.importing.preview import lines_of
from athletes.models import LiftSet
from athletes.reader.notes import Refused
from tests.athletes.importing.import_steps import outcome, read_in, sets_in
from tests.athletes.importing.table_shapes import HEAD, ROW, read, standings


@pytest.fixture
def club(cast):
    return cast


def packed(name: str) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as file:
        file.writestr(name, "x")
    return out.getvalue()


KINDS = [
    (b"", "empty"), (b"\n \n\n", "empty"), (b"%PDF-1.4\n%\xe2\xe3\n1 0 obj\n", "PDF"), (b"%PDF-1.4\nplain\n", "PDF"),
    (b"<!DOCTYPE html><html><table><tr><td>date</td></tr></table></html>", "web page"),
    (b"\n<table>\n<tr><td>date</td></tr>\n</table>", "web page"), (b'<?xml version="1.0"?><Workbook/>', "XML"),
    (b"{\\rtf1 date}", "RTF"), (b'[{"date": "2026-03-04", "lift": "DL"}]', "JSON"),
    (b"BEGIN:VCALENDAR\nX:1\n", "calendar"),
    (b"\x89PNG\r\n\x1a\n" + bytes(range(200)), "PNG"), (b"\xff\xd8\xff\xe0" + bytes(range(200)), "JPEG"),
    (b"\x1f\x8b\x08\x00" + bytes(range(200)), "GZIP"), (b"PK\x05\x06" + b"\0" * 18, "ZIP"),
    (packed("log.csv"), "packed file"), (packed("word/document.xml"), "text document"),
]  # fmt: skip


@pytest.mark.parametrize(("content", "says"), KINDS)
def test_a_file_of_another_kind_under_a_tables_name_is_refused_by_its_kind(club, content, says):
    with pytest.raises(Refused, match=says):
        read_in(club, content)


def book(*rows, before=None) -> bytes:
    made = Workbook()
    if before:
        made.active.title = "Notes"
        made.active.append([before])
        sheet = made.create_sheet("Log")
    else:
        sheet = made.active
    for row in rows:
        sheet.append(row)
    for line in sheet.iter_rows():
        for cell in line:
            if isinstance(cell.value, float) and cell.value < 1:
                cell.number_format = "0%"
    out = io.BytesIO()
    made.save(out)
    return out.getvalue()


TOP = ["Date", "Lifter", "Lift", "Weight", "Unit", "Reps"]


def test_cells_of_a_workbook_of_every_kind(club):
    rows = [
        [datetime(2026, 3, 4, 18, 30), "Ada Fell", "Sumo", 182.5, "kg", 3], ["4.3.2026", "Ada Fell", "Sumo",
        "182,5", "kg", "3"],
        [46085, "Ada Fell", "Sumo", 190, "kg", 3], [time(18, 30), "Ada Fell", "Sumo", 190, "kg", 3],
        [date(2026, 3, 4), True, "Sumo", 190, "kg", 3], [date(2026, 3, 4), "Ada Fell", "Sumo", 0.8, "kg", 3],
        [date(2026, 3, 4), "Ada Fell", "Sumo", "=100+80", "kg", 3], [date(2026, 3, 4), "Ada Fell",
        "Sumo", 180, "kg", "#REF!"],
        [date(2026, 3, 4), "Ada Fell", "Sumo", 180, "kg", date(2026, 3, 5)], [date(2026, 3, 4), "Ada Fell",
        "Sumo", "'180", "kg", 3.0],
    ]  # fmt: skip
    batch = read_in(club, book(TOP, *rows), "log.xlsx")
    said = outcome(batch)
    assert [s for _, s, _ in said] == ["ok", "ok", "guess", "ask", "ask", "ask", "ask", "ask", "ask", "ok"]
    assert "“80%” is a share of a max" in said[5][2] and "formula" in said[6][2]
    assert {s[1:3] for s in read(batch)} == {("2026-03-04", 182.5), ("2026-03-04", 190.0), ("2026-03-04", 180.0)}


def test_the_sheet_with_the_table_is_read_and_the_others_are_named(signed_in, club):
    content = book(TOP, [date(2026, 3, 4), "Ada Fell", "Sumo", 180, "kg", 3], before="Read me first")
    batch = read_in(club, content, "log.xlsx")
    assert batch.options["sheet"] == "Log" and len(sets_in(batch)) == 1
    page = signed_in("stan").get(reverse("import", args=[batch.pk])).content.decode()
    assert "the workbook also has Notes" in page


def test_a_workbook_with_a_title_gaps_and_an_offset(club):
    rows = [["Squad log"], [], [None, None, *TOP], [None, None, date(2026, 3, 4), "Ada Fell", "Sumo", 180, "kg", 3]]
    assert read(read_in(club, book(*rows), "log.xlsx")) == [("Ada Fell", "2026-03-04", 180.0, 3)]


def test_the_preview_is_the_plan_and_the_plan_is_what_is_taken(signed_in, club):
    text = HEAD.strip() + ",bw,height\n" + "".join(
        f"2026-03-{d:02},{who},sumo,{kg},kg,{reps},{bw},170\n"
        for d, who, kg, reps, bw in (
            (4, "Ada Fell", 180, 3, "66 kg"), (5, "Ada Fell", "17O", 3, ""), (6, "Petra Moss", "-150", 1, '"70,5 kg"'),
            (6, "Nobody", 100, 1, ""), (6, "Petra Moss", "150x", "", ""), (7, "Petra Moss", 150, '"5,5,4"', "72 kg"),
        )
    )  # fmt: skip
    batch = read_in(club, text)
    counts = sums(batch)
    assert counts["rows"] == counts["taken"] + counts["fixed"] + counts["skipped"] == 6
    lines = [line for line in lines_of(batch.rows.order_by("number"), batch, club.ona) if line.outcome == "taken"]
    shown, readings = ([w for line in lines for w in getattr(line, kind)] for kind in ("sets", "measures"))
    signed_in("stan").post(reverse("import-take", args=[batch.pk]))
    done = lines_of(batch.rows.order_by("number"), batch, club.ona)
    assert [w for line in done if line.outcome == "taken" for w in line.sets] == shown
    assert LiftSet.objects.count() == 5 and len(shown) == 4  # two equal sets of a line are told as one
    page = signed_in("ona").get(reverse("import", args=[batch.pk])).content.decode()
    assert f"5 sets and {len(readings)} readings of bodies" in page


def test_a_cell_of_several_lines_survives_a_fix(signed_in, club):
    batch = read_in(club, 'date,lifter,lift,set\n2026-02-30,Ada Fell,sumo,"140kg x 5\n160kg x 3"\n')
    address = reverse("import-line", args=[batch.pk, 2])
    page = signed_in("stan").get(address).content.decode()
    assert "<textarea" in page
    cells = ["2026-02-27", "Ada Fell", "sumo", "140kg x 5\r\n160kg x 3"]
    signed_in("stan").post(address, {f"cell-{i}": c for i, c in enumerate(cells)})
    assert [s["load_kg"] for s in sets_in(batch)] == [140.0, 160.0]


def test_first_and_last_names_in_two_columns_are_one_name(club):
    batch = read_in(club, "Date,First name,Last name,kg,Reps\n2026-03-04,Ada,Fell,180,3\n2026-03-04,Ada,,180,3\n")
    assert standings(batch) == ["guess", "ask"] and read(batch)[0][0] == "Ada Fell"


def test_numbers_kept_as_texts_by_a_formula_are_read(club):
    batch = read_in(club, HEAD + '="2026-03-04",="Ada Fell",sumo,="180",kg,="3"\n')
    assert read(batch) == [("Ada Fell", "2026-03-04", 180.0, 3)]


def test_a_table_of_bests_without_days_brings_no_sets(club):
    batch = read_in(club, "Name,Squat PR,Deadlift PR\nAda Fell,140,180\n", answers={"file-date|file": "2026-03-04"})
    assert sets_in(batch) == []


def test_a_line_with_only_the_second_table_is_read_from_it(club):
    head = "date,lifter,lift,weight,unit,reps"
    batch = read_in(club, f"{head},{head}\n,,,,,,{ROW.strip()}\n{ROW.strip()},,,,,,\n")
    assert standings(batch) == ["ok", "ok"]


@pytest.mark.parametrize(
    ("row", "says"),
    [
        ("2026-03-04,Ada Fell,DL,17O,kg,1", "weight: “17O”"),
        ("2026-03-04,Ada Fell,DL,180,kg,5-Mar", "reps: “5-Mar”"),
        ("2026-02-30,Ada Fell,DL,180,kg,1", "date: 2026-02-30"),
        ("2026-03-04,Nobody,DL,180,kg,1", "lifter: nobody"),
        ("2026-03-04,Ada Fell,what,180,kg,1", "lift: which lift"),
        ("2026-03-04,Ada Fell,DL,180,stone,1", "unit: “stone”"),
        ("2026-03-04,Ada Fell,DL,x180 ?,kg,1", "weight: “x180 ?”"),
    ],
)  # fmt: skip
def test_a_reason_names_its_column(club, row, says):
    [(number, _, reason)] = outcome(read_in(club, HEAD + row + "\n"))
    assert number == 2 and says in reason


def test_a_reason_of_a_file_without_headings_counts_its_columns(club):
    batch = read_in(club, ROW + "2026-03-05,Ada Fell,sumo,18O,kg,3\n" + ROW)
    assert "column 4: “18O”" in outcome(batch)[1][2]
