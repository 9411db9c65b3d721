"""Workbooks: opened beside the page in a process that may use so much and no more, refused early with the reason."""

import io
import json
import os
import random
import subprocess
import sys
import zipfile

import pytest
from django.urls import reverse
from openpyxl import Workbook

from athletes.importing.files.workbook import TOO_LONG, TOO_MUCH
from athletes.models import ImportBatch
from athletes.reader.file import sheet as sheets
from athletes.reader.file.sheet import sheet_to_csv
from athletes.reader.notes import Refused
from tests.athletes.importing.import_steps import read_in, sets_in
from tests.athletes.importing.workbooks import (
    ADA,
    HEAD,
    ROOT,
    book,
    packed,
    reason,
    repacked,
    sheet_of,
    waiting,
    with_result,
)


def test_dates_and_numbers_are_read(cast):
    batch = read_in(cast, book([HEAD, ADA, [None, None, None, 190, "kg", 2]]), "log.xlsx")
    assert [(s["day"], s["load_kg"], s["reps_made"]) for s in sets_in(batch)] == [
        ("2026-03-04", 182.5, 3),
        ("2026-03-04", 190.0, 2),
    ]


def test_rows_keep_their_numbers_over_gaps_and_line_breaks(cast):
    made = Workbook()
    for number, row in ((1, HEAD), (2, ADA), (2503, [*ADA[:3], "180x3\n190x2", "kg", None])):
        for column, value in enumerate(row, 1):
            made.active.cell(number, column, value)
    out = io.BytesIO()
    made.save(out)
    batch = read_in(cast, out.getvalue(), "log.xlsx")
    assert (batch.rows_read, batch.rows.order_by("-number")[0].number) == (2502, 2503)
    assert batch.rows.get(number=2503).raw[3] == "180x3\n190x2"
    assert [s["load_kg"] for s in sets_in(batch)] == [182.5, 180.0, 190.0]


def test_a_formula_without_a_result_is_shown_and_one_with_a_result_is_read(cast):
    content = book([HEAD, [*ADA[:3], "=100+82.5", "kg", 3]])
    batch = read_in(cast, content, "log.xlsx")
    assert batch.rows.get(number=2).raw[3] == "=100+82.5"
    assert not sets_in(batch)
    worked = repacked(content, **{"xl/worksheets/sheet1.xml": lambda old: with_result(old, b"182.5")})
    assert [s["load_kg"] for s in sets_in(read_in(cast, worked, "log.xlsx"))] == [182.5]


def test_macros_are_left_alone(signed_in, cast):
    batch = read_in(cast, repacked(book([HEAD, ADA]), **{"xl/vbaProject.bin": "Sub x()"}), "log.xlsm")
    assert len(sets_in(batch)) == 1
    page = signed_in("stan").get(reverse("import", args=[batch.pk])).content.decode()
    assert "macros are left alone" in page


@pytest.mark.parametrize("seed", range(8))
def test_a_damaged_workbook_is_refused(cast, seed):
    content = bytearray(book([HEAD, ADA]))
    dice = random.Random(seed)
    for _ in range(40):
        content[dice.randrange(4, len(content))] = dice.randrange(256)
    reason(cast, bytes(content))
    assert all(b.status in ("ready", "refused") for b in ImportBatch.objects.all())


def bomb(parts: dict[str, int]) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as made:
        made.writestr("xl/workbook.xml", "<workbook/>")
        for name, size in parts.items():
            with made.open(name, "w", force_zip64=True) as part:
                for _ in range(size // 2**20):
                    part.write(b" " * 2**20)
    return out.getvalue()


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (lambda: bomb({"xl/worksheets/sheet1.xml": 310 * 2**20}), "would unpack to"),
        (lambda: bomb({"xl/sharedStrings.xml": 50 * 2**20}), "texts alone"),
        (lambda: bomb({"xl/styles.xml": 50 * 2**20}), "texts alone"),
        (lambda: packed(**{"xl/workbook.xml": ""} | {f"xl/worksheets/{n}.xml": "" for n in range(101)}), "101 sheets"),
        (lambda: packed(**{"xl/workbook.xml": ""} | {f"x{n}": "" for n in range(2001)}), "2,002 parts"),
        (lambda: packed(**{"word/document.xml": ""}), "text document"),
        (lambda: packed(**{"content.xml": "", "mimetype": ""}), "OpenDocument"),
        (lambda: packed(**{"xl/workbook.bin": ""}), "XLSB"),
        (lambda: packed(**{"athlete.json": ""}), "Take in a copy"),
        (lambda: packed(**{"log.csv": "a,b"}), "no XLSX workbook"),
        (lambda: b"PK\x03\x04 and no more", "cannot be opened"),
        (lambda: b"\xd0\xcf\x11\xe0" + b"\0" * 600, "old kind"),
        (lambda: b"\xd0\xcf\x11\xe0" + b"\0" * (2**20 - 10) + "EncryptedPackage".encode("utf-16-le"), "password"),
        (lambda: b"\n<!DOCTYPE html><table><tr><td>200</td></tr></table>", "web page"),
        (lambda: b"", "empty"),
    ],
)  # fmt: skip
def test_what_can_be_told_from_outside_is_refused_with_the_upload(cast, content, says):
    with pytest.raises(Refused, match=says):
        waiting(cast, content())
    assert not ImportBatch.objects.exists()


def test_a_locked_part_is_refused(cast):
    content = bytearray(book([HEAD, ADA]))
    at = content.find(b"PK\x01\x02")
    content[at + 8] |= 1
    with pytest.raises(Refused, match="password"):
        waiting(cast, bytes(content))


def test_entities_that_grow_are_refused(cast):
    evil = '<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;">]><workbook>&b;</workbook>'
    assert "damaged" in reason(cast, repacked(book([["a"]]), **{"xl/workbook.xml": evil}))


def test_too_many_columns_and_too_many_rows_are_refused_with_their_place(cast, monkeypatch, tmp_path):
    assert "Row 2 has 301 columns" in reason(cast, book([HEAD, [1] * 301]))
    assert "Row 2, column 2: a cell of 20,001" in reason(cast, book([HEAD, ["", "x" * 20_001]]))
    (tmp_path / "log.xlsx").write_bytes(book([HEAD, ADA, ADA]))
    monkeypatch.setattr(sheets, "MOST_ROWS", 2)
    with pytest.raises(Refused, match="more than 2 rows"):
        sheet_to_csv(tmp_path / "log.xlsx", tmp_path / "table.csv")
    monkeypatch.setattr(sheets, "MOST_ROWS", 9)
    monkeypatch.setattr(sheets, "MOST_WRITTEN", 60)
    with pytest.raises(Refused, match="Row 2: the sheet's text comes to"):
        sheet_to_csv(tmp_path / "log.xlsx", tmp_path / "table.csv")


@pytest.mark.parametrize(
    ("times", "cells", "limit", "says"),
    [(1, 1_000_000, "memory=60 * 2**20", TOO_MUCH), (60_000, 6, "seconds=1", TOO_LONG)],
)
def test_a_sheet_that_takes_too_much_is_refused(tmp_path, times, cells, limit, says):
    """The opener in a process of its own, held down further than usual."""
    (tmp_path / "log.xlsx").write_bytes(sheet_of(b"<c><v>1</v></c>", times, cells))
    code = (
        "from athletes.importing.files import workbook as apart; held = apart.hold_down;"
        f"apart.hold_down = lambda: held({limit}); apart.main()"
    )
    args = [sys.executable, "-c", code, str(tmp_path / "log.xlsx"), str(tmp_path)]
    subprocess.run(args, cwd=ROOT, check=True, env=os.environ | {"OPENBLAS_NUM_THREADS": "1"})
    assert json.loads((tmp_path / "outcome.json").read_text()) == {"refused": says}
