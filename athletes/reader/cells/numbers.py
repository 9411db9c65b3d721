"""Numbers as people type them: decimal commas, thousands marks, letters that a camera took for digits."""

import re
import unicodedata
from functools import lru_cache
from typing import NamedTuple

from athletes.reader.notes import ASK, GUESS, Note, Notes

LOOKALIKES = str.maketrans({"O": "0", "o": "0", "l": "1", "I": "1", "|": "1"})
GAPS = re.compile(r"(?<=\d)[\s'’](?=\d{3}(?!\d))")
DASHES = str.maketrans({"−": "-", "–": "-", "—": "-", "‐": "-", "‑": "-", "﹣": "-", "－": "-"})
LONGEST = 60
PLAIN = re.compile(r"[-+]?(\d+(\.\d*)?|\.\d+)")
MISREAD = re.compile(r"[-+]?[0-9OolI|]*[0-9][0-9OolI|]*([.,][0-9OolI|]+)?")


class Number(NamedTuple):
    value: float | None
    notes: Notes = ()


def tidy(text: str) -> str:
    """Text with every kind of space as one plain space, ends trimmed, digits of any script and dashes made plain."""
    if not text.isascii():
        text = unicodedata.normalize("NFKC", text).translate(DASHES)
        text = "".join(_plain(c) for c in text)
    return " ".join(text.split())


def _plain(c: str) -> str:
    """A digit of any script as 0 to 9; marks that nobody sees, such as those that turn the direction, as nothing."""
    if c.isascii() or not (c.isdigit() or unicodedata.category(c) == "Cf"):
        return c
    return str(unicodedata.decimal(c)) if unicodedata.decimal(c, None) is not None else "" if not c.isdigit() else c


@lru_cache(maxsize=20_000)
def read_number(text: str, decimal: str = "") -> Number:
    """The number in `text`; `decimal` is the file's decimal mark ("," or "."; "" when nothing in it told).

    One mark followed by one or two digits is decimal whatever the file does; three digits follow a thousands mark
    unless the file's decimal mark says otherwise.
    """
    if len(text) > LONGEST:
        return Number(None, (Note(ASK, f"“{text[:40]}” is not a number"),))
    bare = GAPS.sub("", tidy(text))
    if PLAIN.fullmatch(bare) and "." not in bare:
        return Number(float(bare))
    if not re.fullmatch(r"[-+]?[\d.,]*\d[\d.,]*", bare):
        return _misread(bare)
    marks = [c for c in bare if c in ".,"]
    if len(set(marks)) == 2:
        return _both_marks(bare, marks)
    if len(marks) > 1:
        return _grouped(bare, marks[0])
    return _one_mark(bare, marks[0], decimal)


def _misread(bare: str) -> Number:
    if MISREAD.fullmatch(bare):
        looks = bare.translate(LOOKALIKES)
        return Number(None, (Note(ASK, f"“{bare}” has a letter among its digits; it looks like {looks}"),))
    return Number(None, (Note(ASK, f"“{bare[:40]}” is not a number"),))


def _both_marks(bare: str, marks: list[str]) -> Number:
    last = marks[-1]
    other = "," if last == "." else "."
    whole, _, part = bare.rpartition(last)
    if last in whole or not re.fullmatch(rf"[-+]?\d{{1,3}}(\{other}\d{{3}})+", whole):
        return Number(None, (Note(ASK, f"“{bare}” mixes commas and points in a way that cannot be read"),))
    return Number(float(whole.replace(other, "") + "." + part))


def _grouped(bare: str, mark: str) -> Number:
    if re.fullmatch(rf"[-+]?\d{{1,3}}(\{mark}\d{{3}})+", bare):
        return Number(float(bare.replace(mark, "")))
    return Number(None, (Note(ASK, f"“{bare}” has more than one decimal mark"),))


def _one_mark(bare: str, mark: str, decimal: str) -> Number:
    whole, _, part = bare.partition(mark)
    as_decimal = float(f"{whole or 0}.{part or 0}") if whole not in ("-", "+") else float(f"{whole}0.{part}")
    if len(part) != 3 or not whole.strip("+-") or len(whole.strip("+-")) > 3:
        return Number(as_decimal)
    if mark == decimal:
        return Number(
            as_decimal, (Note(GUESS, f"“{bare}” read as {as_decimal:g}: the file's decimal mark is “{mark}”"),)
        )
    joined = float(whole + part)
    if decimal:
        return Number(joined, (Note(GUESS, f"“{bare}” read as {joined:g}: “{mark}” marks thousands in this file"),))
    return Number(
        None, (Note(ASK, f"“{bare}” may be {as_decimal:g} or {joined:g}: say which decimal mark the file uses"),)
    )
