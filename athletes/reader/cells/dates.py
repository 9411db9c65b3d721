"""Dates in the forms that logs hold; the order of day and month is decided for the whole file, never per row."""

import re
from datetime import date, timedelta
from functools import lru_cache
from typing import NamedTuple

from athletes.reader.cells.lift_words import MONTHS, WEEKDAYS
from athletes.reader.cells.numbers import tidy
from athletes.reader.notes import ASK, GUESS, SKIP, Note, Notes

EARLIEST = date(1950, 1, 1)
EXCEL_EPOCH = date(1899, 12, 30)
LONGEST = 80
SERIAL = range(18_264, 73_051)  # 1950 to 2099 as spreadsheet day numbers
ISO = re.compile(r"(\d{4})([-/.])(\d{1,2})\2(\d{1,2})(?:[T ]\d{1,2}:\d{2}.*)?")
COMPACT = re.compile(r"(\d{4})(\d{2})(\d{2})")
NUMERIC = re.compile(r"(\d{1,2})([-/.])(\d{1,2})\2(\d{4}|\d{2})(?:[T, ]+\d{1,2}:\d{2}.*)?")
NO_YEAR = re.compile(r"(\d{1,2})([/.-])(\d{1,2})[/.]?")
ISO_WEEK = re.compile(r"(\d{4})-?W(\d{1,2})(?:-?([1-7]))?", re.I)
CJK = re.compile(r"(\d{4})\s*年\s*(\d{1,2})\s*月\s*(\d{1,2})\s*日")
CLOCK = re.compile(r"[T,]?\s*(?:at|um|kl\.?|à|o|godz\.?)?\s*\d{1,2}:\d{2}.*|\s+kl\.? \d{1,2}$", re.I)
BESIDE = {
    *("de", "of", "the", "st", "nd", "rd", "th", "den", "le", "el", "di", "do", "er", "o", "e", "го", "г", "года", "r"),
    *("roku", "a", "den", "dia", "día", "il", "am", "on", "del", "van"),
}
WEEK_DAY = re.compile(
    r"(?:w|wk|week|woche|semaine|semana)\s*(\d{1,2})[\s,/.-]*(?:(?:d|day|tag|jour|dia|día)\s*(\d))?", re.I
)
LETTERS = re.compile(r"[^\W\d_]+(?:-[^\W\d_]+)?\.?")


class Day(NamedTuple):
    value: date | None
    notes: Notes = ()


class DateWays(NamedTuple):
    """How this file's dates are read: order "dmy", "mdy", "ymd" or "" (not known); year for dates without one; the
    first day of the training block for "week 3 day 2"."""

    order: str = ""
    year: int | None = None
    block_start: date | None = None
    today: date = date(2100, 1, 1)


def numeric_parts(text: str) -> tuple[int, int, str] | None:
    """The first two numbers of a numeric date and their mark; None when the text settles its own order."""
    text = _bare(tidy(text))
    found = NUMERIC.fullmatch(text) or NO_YEAR.fullmatch(text)
    return (int(found[1]), int(found[3]), found[2]) if found else None


def short_parts(text: str) -> tuple[int, int, int] | None:
    """The numbers of a date whose year has two digits: it may stand first as well as last."""
    found = NUMERIC.fullmatch(_bare(tidy(text)))
    return (int(found[1]), int(found[3]), int(found[4])) if found and len(found[4]) == 2 else None


def looks_like_date(text: str) -> bool:
    """Whether a cell is a date of any kind that is read here."""
    day = read_date(text, DateWays("dmy", 2024, date(2024, 1, 1)))
    return day.value is not None or any(note.level == SKIP for note in day.notes)


@lru_cache(maxsize=20_000)
def read_date(text: str, ways: DateWays) -> Day:
    """The calendar day in `text`, as written: a time or a time zone beside it never moves it."""
    text = tidy(text[: LONGEST + 1])
    if len(text) > LONGEST:
        return Day(None, (Note(ASK, f"“{text[:40]}” is not a date"),))
    bare = _bare(text)
    if not bare or bare.rstrip(".").casefold() in WEEKDAYS - MONTHS.keys():
        return Day(None, (Note(ASK, f"“{text}” is only a day of the week: which date?"),))
    for reader in (_iso, _numeric, _worded, _no_year, _week, _serial):
        found = reader(bare, ways)
        if found is not None:
            return _plausible(found, bare, ways)
    return Day(None, (Note(ASK, f"“{text[:40]}” is not a date"),))


def _bare(text: str) -> str:
    """The date without a day of the week, brackets, quotes, and gaps between its numbers."""
    text = re.sub(r"^[\s\"'(\[]+|[\s\"')\]]+$", "", text)
    text = re.sub(r"[\s,(]+([^\W\d_]+(?:-[^\W\d_]+)?)\.?$", _dropped_weekday, _without_weekday(text))
    text = re.sub(r"(?<=\d)_(?=\d)", "-", text)
    if re.fullmatch(r"[\d\s./-]+", text) and len(re.findall(r"\d+", text)) == 3:
        text = re.sub(r"\s*([./-])\s*", r"\1", text).rstrip(".")
        text = re.sub(r"(?<=\d) (?=\d)", "/", text)
    return text


def _dropped_weekday(found: re.Match[str]) -> str:
    return "" if found[1].casefold() in WEEKDAYS - MONTHS.keys() else found[0]


def _without_weekday(text: str) -> str:
    """Without a day of the week before the date; "mar" is one only where a month follows it."""
    first = LETTERS.match(text)
    word = first[0].rstrip(".").casefold() if first else ""
    if first and word in WEEKDAYS:
        rest = text[first.end() :].lstrip(" ,")
        if word not in MONTHS or any(w.rstrip(".").casefold() in MONTHS for w in LETTERS.findall(rest)):
            return rest
    return text


def _plausible(day: Day, text: str, ways: DateWays) -> Day:
    if day.value is None:
        return day
    if day.value > ways.today:
        return Day(None, (Note(SKIP, f"{text} is in the future ({day.value:%d %b %Y})"),))
    if day.value < EARLIEST:
        return Day(None, (Note(SKIP, f"{text} is too long ago ({day.value.year})"),))
    return day


def _day(year: int, month: int, day: int, text: str, notes: Notes = ()) -> Day:
    try:
        return Day(date(year, month, day), notes)
    except ValueError:
        return Day(None, (Note(SKIP, f"{text} is not a day in the calendar"),))


def _iso(text: str, ways: DateWays) -> Day | None:
    found = ISO.fullmatch(text)
    if found:
        return _day(int(found[1]), int(found[3]), int(found[4]), text)
    found = COMPACT.fullmatch(text) or CJK.fullmatch(text)
    if found:
        return _day(int(found[1]), int(found[2]), int(found[3]), text)
    found = ISO_WEEK.fullmatch(text)
    return _week_of_year(found, text) if found else None


def _week_of_year(found: re.Match[str], text: str) -> Day:
    if not found[3]:
        return Day(None, (Note(ASK, f"“{text}” names a week, not a day"),))
    try:
        return Day(date.fromisocalendar(int(found[1]), int(found[2]), int(found[3])))
    except ValueError:
        return Day(None, (Note(SKIP, f"{text} is not a day in the calendar"),))


def _full_year(text: str, today: date) -> int:
    year = int(text)
    if len(text) == 4:
        return year
    return 2000 + year if 2000 + year <= today.year else 1900 + year


def _numeric(text: str, ways: DateWays) -> Day | None:
    found = NUMERIC.fullmatch(text)
    if not found:
        return None
    if ways.order == "ymd" and found[2] != ".":
        return _year_first(found, text, ways)
    return _ordered(int(found[1]), int(found[3]), found[2], _full_year(found[4], ways.today), text, ways)


def _year_first(found: re.Match[str], text: str, ways: DateWays) -> Day:
    if len(found[4]) == 4 or len(found[1]) != 2:
        return Day(
            None, (Note(SKIP, f"{text} does not begin with a year, as this file is read", "date-order", "file"),)
        )
    return _day(_full_year(found[1], ways.today), int(found[3]), int(found[4]), text)


def _ordered(first: int, second: int, mark: str, year: int, text: str, ways: DateWays, notes: Notes = ()) -> Day:
    order = "dmy" if mark == "." and ways.order not in ("dmy", "mdy") else ways.order
    if not order:
        return Day(None, (Note(ASK, f"{text}: is the day or the month first in this file?", "date-order", "file"),))
    day, month = (first, second) if order == "dmy" else (second, first)
    if not 1 <= month <= 12:
        said = "day first" if order == "dmy" else "month first"
        return Day(None, (Note(SKIP, f"{text} has no such month when the file is read {said}", "date-order", "file"),))
    return _day(year, month, day, text, notes)


def _worded(text: str, ways: DateWays) -> Day | None:
    text_only = CLOCK.sub("", text)
    words = [w.rstrip(".").casefold() for w in LETTERS.findall(text_only)]
    words = [part for w in words for part in (w.split("-") if w not in WEEKDAYS else [w])]
    words = [w for w in words if w not in BESIDE]
    months = [MONTHS[w] for w in words if w in MONTHS]
    numbers = re.findall(r"\d+", text_only)
    if len(months) != 1 or len(words) != 1 or not 1 <= len(numbers) <= 2 or any(len(n) > 4 for n in numbers):
        return None
    if len(numbers) == 2 and len(numbers[0]) == 4:
        numbers = numbers[::-1]
    if len(numbers) == 1 and len(numbers[0]) == 4:
        return Day(None, (Note(ASK, f"“{text}” names a month, not a day"),))
    if len(numbers) == 1:
        return _of_year(int(numbers[0]), months[0], text, ways)
    return _day(_full_year(numbers[1], ways.today), months[0], int(numbers[0]), text)


def _of_year(day: int, month: int, text: str, ways: DateWays) -> Day:
    if ways.year is None:
        return Day(None, (Note(ASK, f"“{text}” has no year", "year", "file"),))
    return _day(ways.year, month, day, text, (Note(GUESS, f"year {ways.year} as answered", "year", "file"),))


def _no_year(text: str, ways: DateWays) -> Day | None:
    found = NO_YEAR.fullmatch(text)
    if not found:
        return None
    if ways.year is None:
        return Day(None, (Note(ASK, f"“{text}” has no year", "year", "file"),))
    note = (Note(GUESS, f"year {ways.year} as answered", "year", "file"),)
    return _ordered(int(found[1]), int(found[3]), found[2], ways.year, text, ways, note)


def _week(text: str, ways: DateWays) -> Day | None:
    found = WEEK_DAY.fullmatch(text)
    if not found:
        return None
    if ways.block_start is None:
        return Day(
            None, (Note(ASK, f"“{text}” counts from the start of a block: when was that?", "block-start", "file"),)
        )
    days = 7 * (int(found[1]) - 1) + (int(found[2] or 1) - 1)
    note = Note(GUESS, f"“{text}” counted in days from {ways.block_start:%d %b %Y}", "block-start", "file")
    return Day(ways.block_start + timedelta(days=days), (note,))


def _serial(text: str, ways: DateWays) -> Day | None:
    if not re.fullmatch(r"\d{5}(?:[.,]\d+)?", text):
        return None
    serial = int(text[:5])
    if serial not in SERIAL:
        return None
    day = EXCEL_EPOCH + timedelta(days=serial)
    return Day(day, (Note(GUESS, f"{text} read as a spreadsheet's day number: {day:%d %b %Y}"),))
