"""A pasted list of people, one a line: what was read of each line, and what has to be said more clearly.

A line is cut at tabs, else semicolons, else commas. With a line of headings the columns are known; without one a cell
is taken for what it can only be: words for the name, a sex, a year or date of birth, a length or weight with its unit,
the address or name of a coach. Nothing is guessed: a bare number without a heading is asked about.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from athletes.models import User
from athletes.people.forms import OLDEST, YOUNGEST
from athletes.schema.measurements import MeasureKey
from athletes.schema.names import name_key
from athletes.schema.vocabulary import Sex
from athletes.units import lengths

MOST_LINES = 500
LONGEST_NAME = 80
# Words of headings and of sexes as clubs write them; common practice, no source.
HEADINGS: dict[str, tuple[str, ...]] = {
    "name": ("name", "lifter", "athlete", "names", "full name", "nom", "nombre", "nome"),
    "sex": ("sex", "gender", "m/f", "f/m", "m/w", "geschlecht", "sexe", "sexo"),
    "born": ("born", "birth", "birth year", "year of birth", "year", "birth date", "date of birth", "dob", "jahrgang"),
    "mass": ("mass", "body mass", "weight", "body weight", "bodyweight", "bw", "gewicht", "poids", "peso"),
    "stature": ("stature", "height", "tall", "groesse", "größe", "taille", "altura", "altezza"),
    "coach": ("coach", "trainer", "entraineur", "entrenador", "allenatore"),
}
SEXES: dict[Sex, tuple[str, ...]] = {
    Sex.FEMALE: ("f", "w", "woman", "women", "female", "girl", "♀"),
    Sex.MALE: ("m", "man", "men", "male", "boy", "♂"),
}
YEAR = re.compile(r"(19|20)\d\d", re.ASCII)
ISO = re.compile(r"((19|20)\d\d)-(\d\d?)-(\d\d?)", re.ASCII)
DOTTED = re.compile(r"(\d\d?)\.(\d\d?)\.((19|20)\d\d)", re.ASCII)  # day first; with slashes nobody can tell
SLASHED = re.compile(r"\d\d?/\d\d?/(\d\d|\d{4})", re.ASCII)
WITH_UNIT = re.compile(r"\d.*[^\d.,\s]", re.ASCII)
BARE = re.compile(r"\d+([.,]\d+)?", re.ASCII)


@dataclass(frozen=True, slots=True)
class Entry:
    """One line as it was read; `problems` say what keeps it from being added, `known` that the name is here already."""

    number: int
    text: str
    name: str = ""
    sex: str = ""
    born: date | None = None
    year_only: bool = False
    mass: lengths.Reading | None = None
    stature: lengths.Reading | None = None
    coach: User | None = None
    known: bool = False
    problems: tuple[str, ...] = ()

    @property
    def is_new(self) -> bool:
        return not self.problems and not self.known


@dataclass(slots=True)
class _Cells:
    """The cells of a line by what they are, while they are told apart."""

    found: dict[str, str] = field(default_factory=dict)
    problems: list[str] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Reader:
    """What a roster is read with: today, the club's coaches, the names that are here, the units of bare numbers."""

    today: date
    coaches: Mapping[str, User]
    here: frozenset[str]
    mass_unit: str = "kg"
    length_unit: str = "cm"

    def read(self, text: str) -> list[Entry]:
        """Every line that has something on it, in order; a line of headings is used and left out."""
        lines = [(n, line.strip()) for n, line in enumerate(text.splitlines(), start=1) if line.strip()]
        cut = cutter(line for _, line in lines)
        columns: list[str] | None = None
        entries: list[Entry] = []
        seen = set(self.here)
        for number, line in lines:
            cells = [cell.strip().strip('"').strip() for cell in line.split(cut)] if cut else [line]
            if not entries and columns is None and (named := headings(cells)):
                columns = named
                continue
            entry = self._entry(number, line, cells, columns)
            key = name_key(entry.name)
            if key and key in seen and not entry.problems:
                entry = replace(entry, known=True)
            seen.add(key)
            entries.append(entry)
        return entries

    def _entry(self, number: int, line: str, cells: list[str], columns: list[str] | None) -> Entry:
        told = by_heading(cells, columns) if columns else self._by_shape(cells)
        problems = list(told.problems)
        name = " ".join(told.found.get("name", "").split())
        if not any(c.isalpha() for c in name):
            problems.append("No name on this line.")
        elif len(name) > LONGEST_NAME:
            problems.append(f"A name of more than {LONGEST_NAME} letters.")
        sex = sex_of(told.found.get("sex", ""))
        if not sex:
            typed = told.found.get("sex", "")
            problems.append(f"“{typed}” is no sex: write f or m." if typed else "Whose body tables: write f or m.")
        born, year_only, wrong = read_birth(told.found.get("born", ""), self.today)
        mass = self._measure(MeasureKey.MASS, told.found.get("mass", ""), self.mass_unit, problems)
        stature = self._measure(MeasureKey.STATURE, told.found.get("stature", ""), self.length_unit, problems)
        coach = self.coaches.get(name_key(told.found.get("coach", "")))
        if told.found.get("coach") and coach is None:
            problems.append(f"Nobody who coaches here is called “{told.found['coach']}”.")
        problems += [wrong] if wrong else []
        return Entry(number, line, name, sex, born, year_only, mass, stature, coach, False, tuple(problems))

    @staticmethod
    def _measure(key: MeasureKey, text: str, unit: str, problems: list[str]) -> lengths.Reading | None:
        reading = lengths.read(key, text, unit) if text else None
        if reading is not None and reading.value is None:
            problems.append(reading.message)
        return reading if reading is not None and reading.value is not None else None

    def _by_shape(self, cells: list[str]) -> _Cells:
        """Cells told apart by what they can only be; the first of plain words is the name."""
        told = _Cells()
        for cell in filter(None, cells):
            kind = self._kind(cell)
            if kind == "name" and "name" in told.found and name_key(cell) in self.coaches:
                kind = "coach"
            if kind == "":
                told.problems.append(f"“{cell}”: write its unit, or put headings above the columns.")
            elif kind in told.found:
                told.problems.append(f"“{told.found[kind]}” and “{cell}”: which is the {kind}? Put headings above.")
            else:
                told.found[kind] = cell
        return told

    @staticmethod
    def _kind(cell: str) -> str:
        """What a cell can only be; "" for a bare number."""
        if sex_of(cell):
            return "sex"
        if any(shape.fullmatch(cell) for shape in (YEAR, ISO, DOTTED, SLASHED)):
            return "born"
        if BARE.fullmatch(cell):
            return ""
        if WITH_UNIT.fullmatch(cell):
            mass = lengths.read(MeasureKey.MASS, cell, "kg")
            return "mass" if mass is not None and mass.value is not None else "stature"
        return "name"


def cutter(lines: Iterable[str]) -> str:
    """What a roster is cut at; "" when its lines have neither tabs nor semicolons nor commas."""
    text = "\n".join(lines)
    return next((mark for mark in "\t;," if mark in text), "")


def headings(cells: list[str]) -> list[str] | None:
    """The columns that a line of headings names, "" for others; None when it names no column of names."""
    words = {word: kind for kind, all_words in HEADINGS.items() for word in all_words}
    named = [words.get(cell.casefold(), "") for cell in cells]
    return named if "name" in named and len([n for n in named if n]) == len({n for n in named if n}) else None


def by_heading(cells: list[str], columns: list[str]) -> _Cells:
    """Cells by their column; what stands in a column without a known heading is told, not dropped."""
    told = _Cells()
    for place, cell in enumerate(cells):
        kind = columns[place] if place < len(columns) else ""
        if kind and cell:
            told.found[kind] = cell
        elif cell:
            told.problems.append(f"“{cell}” stands under no known heading.")
    return told


def sex_of(text: str) -> str:
    """The sex whose tables are meant; "" when the text is no word for one."""
    return next((str(sex) for sex, words in SEXES.items() if text.casefold() in words), "")


def read_birth(text: str, today: date) -> tuple[date | None, bool, str]:
    """Birth date, whether only the year is known, and what is wrong.

    Of a year alone the last day stands: somebody counts as under 18 until the end of the year in which they turn 18.
    """
    if not text:
        return None, False, ""
    if YEAR.fullmatch(text):
        born, year_only = date(int(text), 12, 31), True
    else:
        year_only = False
        found = ISO.fullmatch(text)
        parts = found.group(1, 3, 4) if found else None
        if parts is None and (found := DOTTED.fullmatch(text)):
            parts = found.group(3, 2, 1)
        if parts is None:
            return None, False, f"“{text}”: write the year, or the date as 1998-03-14."
        try:
            born = date(*map(int, parts))
        except ValueError:
            return None, False, f"“{text}” is no date."
    age = today.year - born.year
    if not YOUNGEST <= age <= OLDEST:
        return None, False, f"“{text}”: somebody of {age} years? Check the year."
    return born, year_only, ""
