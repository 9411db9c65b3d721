"""What somebody typed, as a number and the unit that stands with it; nothing here knows what a body is."""

import re
import unicodedata
from dataclasses import dataclass

IN_CM = {"mm": 0.1, "cm": 1.0, "m": 100.0, "in": 2.54, "ft": 30.48}
IN_KG = {"kg": 1.0, "lb": 0.45359237, "st": 6.35029318}
INVISIBLE = dict.fromkeys(map(ord, "\u00ad\u200b\u200c\u200d\u200e\u200f\u2060\ufeff"))
MARKS = str.maketrans("’‘′ʹ´`”“″−–—‐‑⁄", "''''''\"\"\"-----/")
WORDS = {
    "mm": "mm|millimet(?:re|er)s?",
    "cm": "cms?|centimet(?:re|er)s?",
    "m": "m|met(?:re|er)s?",
    "in": "in|ins|inch|inches|\"|''",
    "ft": "ft|feet|foot|'",
    "kg": "kgs?|kilos?|kilograms?",
    "lb": "lbs?|pounds?|#",
    "st": "st|stones?",
}
UNIT = "|".join(f"(?P<{unit}>{words})" for unit, words in WORDS.items())
NUMBER = r"\d+(?:[.,]\d+)?"
WITH_UNIT = re.compile(
    rf"(?P<number>{NUMBER}|\.\d+|\d{{1,2}}(?:[ .,]\d{{3}})+(?:[.,]\d+)?)[.,]?\s*(?:{UNIT})?\.?", re.I
)
FRACTION = r"(?P<top>\d{1,2})\s*/\s*(?P<bottom>\d{1,2})"
TWO_READINGS = re.compile(r"\d{3},\d{3}")
WITH_FRACTION = re.compile(rf"(?:(?P<whole>\d+)[ -])?\s*{FRACTION}\s*(?:{UNIT})?", re.I)
FEET = re.compile(
    rf"(?P<feet>\d{{1,2}})\s*(?:{WORDS['ft']})[\s,-]*(?P<inches>{NUMBER})?\s*(?:{FRACTION})?\s*(?:{WORDS['in']})?", re.I
)
STONE = re.compile(rf"(?P<stone>\d{{1,2}})\s*(?:{WORDS['st']})[\s,-]*(?P<pounds>{NUMBER})?\s*(?:{WORDS['lb']})?", re.I)
METRES_MIDDLE = re.compile(r"(?P<metres>\d)\s*m\s*(?P<rest>\d{1,2})", re.I)
BARE_FEET = re.compile(r"(?P<feet>[2-8])[ -](?P<inches>\d{1,2}(?:[.,]\d+)?)")
LOOKALIKE = str.maketrans({"o": "0", "O": "0", "l": "1", "I": "1", "|": "1", "i": "1"})


@dataclass(frozen=True)
class Typed:
    """A number with its unit ("" when none was typed); `sure` is false when letters had to be read as digits."""

    number: float
    unit: str = ""
    sure: bool = True


def cleaned(text: str) -> str:
    """The text with invisible characters gone, every script's digits as 0-9 and one form of quotes and dashes."""
    text = re.sub(r"([¼-¾⅐-⅞])", r" \1", text.translate(INVISIBLE))
    text = unicodedata.normalize("NFKC", text).translate(INVISIBLE).translate(MARKS)
    digits = (str(unicodedata.decimal(c)) if unicodedata.category(c) == "Nd" else c for c in text)
    return " ".join("".join(digits).split())


def as_number(text: str) -> float:
    """A number with a decimal point or comma; marks before groups of three are thousands when a second one follows."""
    text = text.replace(" ", "")
    marks = [c for c in text if c in ".,"]
    if len(marks) > 1:
        last = marks[-1] if marks[-1] != marks[0] else ""
        text = "".join(c for c in text if c.isdigit() or c == last)
    return float(text.replace(",", "."))


def parts(match: re.Match[str], *names: str) -> list[float]:
    return [as_number(match.group(name)) if match.group(name) else 0.0 for name in names]


def share(match: re.Match[str]) -> float:
    """The fraction of a match, 0 when it has none or its lower half is 0."""
    if not match.group("top") or not int(match.group("bottom")):
        return 0.0
    return int(match.group("top")) / int(match.group("bottom"))


def unit_of(match: re.Match[str]) -> str:
    return next((unit for unit in WORDS if match.group(unit)), "")


def read_typed(text: str) -> Typed | None:
    """The number and unit in a cleaned text, or None when there is not exactly one quantity in it."""
    if TWO_READINGS.fullmatch(text):
        return None
    if match := FEET.fullmatch(text):
        feet, inches = parts(match, "feet", "inches")
        return None if inches >= 12 else Typed(feet * 12 + inches + share(match), "in")
    if match := STONE.fullmatch(text):
        stone, pounds = parts(match, "stone", "pounds")
        return None if pounds >= 14 else Typed(stone * 14 + pounds, "lb")
    if match := METRES_MIDDLE.fullmatch(text):
        rest = match.group("rest").ljust(2, "0")
        return Typed(float(f"{match.group('metres')}.{rest}"), "m")
    if match := WITH_FRACTION.fullmatch(text):
        return Typed(parts(match, "whole")[0] + share(match), unit_of(match)) if int(match.group("bottom")) else None
    if match := WITH_UNIT.fullmatch(text):
        return Typed(as_number(match.group("number")), unit_of(match))
    return read_letters(text)


def read_letters(text: str) -> Typed | None:
    """A number in which letters stand for digits that look like them, such as 17O or l80."""
    if not re.fullmatch(r"[\doOlI|i.,]+", text) or not any(c.isdigit() for c in text):
        return None
    match = WITH_UNIT.fullmatch(text.translate(LOOKALIKE))
    return Typed(as_number(match.group("number")), sure=False) if match else None


def bare_feet(text: str) -> float | None:
    """Inches, when a text without marks can be feet and inches: "5 11", "5-11"; also "5.11" typed with a point."""
    match = BARE_FEET.fullmatch(text) or re.fullmatch(r"(?P<feet>[4-7])[.,](?P<inches>10|11|\d)", text)
    if match is None:
        return None
    feet, inches = parts(match, "feet", "inches")
    return feet * 12 + inches if inches < 12 else None
