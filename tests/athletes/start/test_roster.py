"""What is read of a pasted roster; what is not clear is asked, never guessed, and nothing of a line is dropped."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from athletes.models import User
from athletes.start.roster import Reader

TODAY = date(2026, 11, 27)
COACH = User(email="bea@example.test", first_name="Bea")


def read(text: str, **changes: object):
    given = {"coaches": {"bea": COACH, "bea@example.test": COACH}, "here": frozenset({"ada fell"})} | changes
    return Reader(TODAY, **given).read(text)


def test_a_line_without_headings_is_told_apart_by_what_its_cells_can_only_be():
    (one,) = read("Petra Moss, f, 1998, 71.5 kg, 168 cm, Bea")
    assert (one.name, one.sex, one.born, one.year_only, one.coach) == (
        "Petra Moss", "f", date(1998, 12, 31), True, COACH,
    )  # fmt: skip
    assert (one.mass.value, one.stature.value) == (71.5, 168.0)
    assert one.is_new and one.problems == ()


@pytest.mark.parametrize("mark", ["\t", ";", ", "])
def test_columns_with_headings_stand_in_any_order_and_any_of_three_marks(mark):
    text = (
        mark.join(["Height", "Name", "Sex", "Weight", "Born"]) + "\n" + mark.join(["168", "Petra", "w", "71", "1998"])
    )
    (one,) = read(text)
    assert one.problems == () and one.number == 2
    assert (one.name, one.sex, one.mass.value, one.stature.value) == ("Petra", "f", 71.0, 168.0)


def test_a_bare_number_without_headings_is_asked_about():
    (one,) = read("Petra Moss, f, 71")
    assert one.problems == ("“71”: write its unit, or put headings above the columns.",) and not one.is_new


def test_units_follow_the_person_and_the_text():
    (one,) = read("name;sex;weight;height\nPetra;f;160;5'6\"", mass_unit="lb", length_unit="in")
    assert one.mass.value == pytest.approx(72.57, abs=0.01) and one.stature.value == pytest.approx(167.64)


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("Petra Moss", "write f or m"),
        ("Petra Moss, f, 14/03/1998", "write the year, or the date as 1998-03-14"),
        ("Petra Moss, f, 31.02.1998", "is no date"),
        ("Petra Moss, f, 2019", "of 7 years"),
        ("Petra Moss, f, 1915", "of 111 years"),
        ("Petra Moss, f, Jo Nobody", "which is the name"),
        ("Moss, Petra, f", "which is the name"),
        ("f, 1998", "No name"),
        ("x" * 81 + ", f", "more than 80 letters"),
        ("Petra Moss, f, 71 kg, 72 kg", "which is the mass"),
        ("Petra Moss, f, 710 kg", "710 kg"),
        ("name,sex,coach\nPetra,f,Somebody", "Nobody who coaches here is called “Somebody”"),
        ("name,sex\nPetra,f,left over", "stands under no known heading"),
        ("name,sex\nPetra,q", "“q” is no sex"),
    ],
)
def test_what_is_not_clear_is_said_and_keeps_the_line_from_being_added(line, told):
    one = read(line)[-1]
    assert not one.is_new and any(told in problem for problem in one.problems), one.problems


@pytest.mark.parametrize(("year", "read_as"), [("2018", date(2018, 12, 31)), ("1916", date(1916, 12, 31))])
def test_ages_from_eight_to_a_hundred_and_ten_are_taken(year, read_as):
    assert read(f"Petra Moss, f, {year}")[0].born == read_as


def test_who_is_here_and_who_stands_twice_is_not_added_again():
    here, first, second = read("Ada  FELL, f\nPetra Moss, f\npetra moss, f")
    assert (here.known, here.is_new) == (True, False)
    assert first.is_new and second.known


def test_a_whole_date_is_kept_as_it_is():
    first, second = read("Petra Moss, f, 1998-03-14\nIvo Reed, m, 14.3.1998")
    assert first.born == second.born == date(1998, 3, 14) and not first.year_only


@given(st.text(st.characters(codec="utf-8", exclude_categories=["Cs"]), max_size=120))
def test_any_text_is_read_without_an_error_and_every_line_is_told(text):
    entries = read(text)
    filled = sum(bool(line.strip()) for line in text.splitlines())
    assert filled - len(entries) in (0, 1)
    assert all(one.is_new or one.known or one.problems for one in entries)
