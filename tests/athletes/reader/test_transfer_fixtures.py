"""The good files of the fixtures come in whole; the bad ones are refused with the reason."""

from pathlib import Path

import pytest

from athletes.reader.notes import Refused
from tests.athletes.importing.import_steps import read_in, sets_in

FILES = Path(__file__).resolve().parents[3] / "fixtures/csv"
GOOD = {
    "plain.csv": [180, 180, 183.7],
    "semicolons_latin1.csv": [182.5, 190],
    "utf16_tabs.csv": [120],
    "old_macintosh_line_ends.csv": [180, 185],
    "merged_cells.csv": [140, 160, 180, 120, 120, 120],
    "three_attempts.csv": [160, 170, 170, 110, 117.5, 122.5],
    "no_headings.csv": [180, 180, 180, 190, 190, 190],
}
BAD = {
    "empty.csv": "empty",
    "no_text.csv": "line 1, column 1",
    "too_many_columns.csv": "Line 2 has 10,000 columns",
    "open_quote_forever.csv": "Line 2, column 3",
    "old_workbook.xls": "old kind",
    "no_workbook.xlsx": "cannot be opened",
}


def test_every_fixture_is_listed():
    assert {p.name for p in (FILES / "good").iterdir()} == set(GOOD)
    assert {p.name for p in (FILES / "bad").iterdir()} == set(BAD)


@pytest.mark.parametrize(("name", "loads"), GOOD.items())
def test_good_files_come_in(cast, name, loads):
    batch = read_in(cast, (FILES / "good" / name).read_bytes(), name)
    assert not batch.rows.filter(status="ask").exists()
    assert [round(one["load_kg"], 1) for one in sets_in(batch)] == loads


@pytest.mark.parametrize(("name", "says"), BAD.items())
def test_bad_files_are_refused_with_the_reason(cast, name, says):
    with pytest.raises(Refused, match=says):
        read_in(cast, (FILES / "bad" / name).read_bytes(), name)
