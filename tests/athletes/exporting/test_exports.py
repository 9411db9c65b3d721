"""Logs out: tables that come back unchanged, copies that another club can take in, and who may have them."""

import csv
import io

import pytest
from django.urls import reverse
from hypothesis import example, given
from hypothesis import strategies as st

from athletes.exporting.csv_writer import NUMBER, guarded
from athletes.models import TrainingDay
from athletes.reader.rows.context import unguarded
from tests.athletes.exporting.copies import log, squad_table, table_of, values
from tests.athletes.importing.import_steps import read_in


def test_a_table_comes_back_without_change(signed_in, cast, full_log):
    before, first = values(full_log), table_of(signed_in("cato"), full_log)
    full_log.sets.all().delete()
    batch = read_in(cast, first)
    assert [r.reason for r in batch.rows.exclude(status="ok")] == []
    signed_in("stan").post(reverse("import-take", args=[batch.pk]))
    assert values(full_log) == before
    assert table_of(signed_in("cato"), full_log) == first
    assert {s for (s,) in read_in(cast, first).rows.values_list("status")} == {"duplicate"}


@example("'1 single")
@example("'\u200b'=1")
@given(st.text("'=+-@\t\ufeff\u200b\u00a0 ＝1a.", max_size=8).map(str.strip))
def test_what_starts_a_formula_is_guarded_and_the_guard_comes_off_again(text):
    shown = guarded(text)
    assert unguarded(shown) == text
    bare = shown.lstrip("\ufeff\u200b\u00a0 ")
    assert bare[:1] not in ("=", "@", "\t", "＝") and (bare[:1] not in ("+", "-") or NUMBER.fullmatch(shown))


def test_formulas_are_guarded_and_negative_numbers_stay_numbers():
    assert [guarded(t) for t in ("=1+1", "+x", "@x", "-x", "\tx", "'=x", "＝x")] == [
        "'=1+1",
        "'+x",
        "'@x",
        "'-x",
        "'\tx",
        "''=x",
        "'＝x",
    ]
    assert [guarded(mark + "=1+1")[0] for mark in ("\ufeff", "\u200b", "\u00a0", " ", " \u200b ")] == ["'"] * 5
    assert [guarded("\u00a0" + sign + "x")[0] for sign in "+-@"] == ["'"] * 3
    assert [guarded(t) for t in ("-200", "-2.5", "+3", "plain", "'quoted'", "", "'")] == [
        "-200",
        "-2.5",
        "+3",
        "plain",
        "'quoted'",
        "",
        "'",
    ]


def test_no_cell_of_a_table_starts_a_formula(signed_in, full_log):
    rows = list(csv.reader(io.StringIO(table_of(signed_in("cato"), full_log).lstrip("\ufeff"))))
    starts = {c[0] for row in rows for c in row if c and not c.lstrip("-").replace(".", "").isdigit()}
    assert not starts & set("=+-@\t\r")


def test_a_table_tells_nobodys_weight(signed_in, cast, full_log):
    TrainingDay.objects.create(athlete=full_log, day="2026-03-04", mass_typed="71,1", mass_unit="kg", mass_kg=71.1)
    text = squad_table(signed_in("cato"))
    assert "71" not in text
    assert not {"mass", "class", "points", "moment", "N m"} & set(text.splitlines()[0].split(","))


def test_the_squads_table_holds_the_squad_of_its_coach(signed_in, cast, full_log):
    log(cast.athletes["petra"])
    log(cast.athletes["hugo"])

    def names(who: str) -> set[str]:
        text = squad_table(signed_in(who)).lstrip("\ufeff")
        return {row["lifter"] for row in csv.DictReader(io.StringIO(text))}

    assert names("cato") == {"Ada Fell"}
    assert names("bea") == {"Petra Moss"}
    assert names("ona") == {"Ada Fell", "Petra Moss"}


def table_of_access():
    yield from (
        ("exports", False, who, code)
        for who, code in [("ona", 200), ("cato", 200), ("stan", 403), ("ada", 404), ("nils", 404)]
    )
    yield from (
        ("archive-import", False, who, code) for who, code in [("ona", 200), ("cato", 200), ("stan", 403), ("ada", 404)]
    )
    for name in ("export-athlete",):
        yield from (
            (name, True, who, code)
            for who, code in [
                ("ona", 200),
                ("cato", 200),
                ("bea", 403),
                ("stan", 403),
                ("ada", 200),
                ("olga", 404),
                ("hugo", 404),
            ]
        )


@pytest.mark.parametrize(("name", "own", "who", "code"), list(table_of_access()))
def test_who_may_have_what(signed_in, cast, name, own, who, code):
    args = [cast.athletes["ada"].pk] if own else []
    assert signed_in(who).get(reverse(name, args=args)).status_code == code


def test_wrong_verbs_are_refused(signed_in, cast):
    ona = signed_in("ona")
    assert ona.post(reverse("exports")).status_code == 405
    assert ona.get(reverse("export-squad")).status_code == 405
    assert ona.put(reverse("export-athlete", args=[cast.athletes["ada"].pk])).status_code == 405


@pytest.mark.parametrize(("who", "code"), [("ona", 302), ("cato", 302), ("stan", 403), ("ada", 404)])
def test_who_may_have_the_squads_table(signed_in, cast, who, code):
    assert signed_in(who).post(reverse("export-squad")).status_code == code
