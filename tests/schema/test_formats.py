"""docs/formats.md says what the schema says, and a made-up field would stand in it."""

from dataclasses import dataclass
from typing import Annotated

import pytest

from athletes.exporting.formats import BESIDE, OF_A_FIELD, PAGE, columns_table, holds, page_with_tables
from athletes.reader.headings import EXPORT
from athletes.schema.fields import Field, specs
from athletes.schema.units import KG
from athletes.schema.vocabulary import Grip


@dataclass(frozen=True)
class MadeUp:
    chain: Annotated[float, Field("Chain on the bar", "chain chain-kg", unit=KG, low=0, high=90)]
    hold: Annotated[str, Field("How it was held", "hold", Grip)] = "unknown"
    sung: Annotated[bool, Field("somebody sang", "sung")] = False


def test_the_page_is_as_the_schema_says():
    assert page_with_tables(PAGE.read_text()) == PAGE.read_text(), "run manage.py write_formats"


def test_every_column_of_the_table_has_its_row_in_order():
    rows = columns_table().splitlines()[2:]
    assert [row.split("|")[1].strip() for row in rows] == [heading for heading, _ in EXPORT]
    assert (BESIDE.keys() | OF_A_FIELD.keys()) <= {heading for heading, _ in EXPORT}


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("chain", "Chain on the bar, 0 to 90 kg"),
        ("hold", "How it was held: unknown, double-overhand, mixed, hook"),
        ("sung", "somebody sang: yes or no"),
    ],
)
def test_a_described_field_says_what_it_holds(name, words):
    assert holds(specs(MadeUp)[name]).startswith(words)


def test_a_page_without_the_marks_is_refused():
    with pytest.raises(ValueError, match="columns"):
        page_with_tables("no table here\n")
