"""Effort: RPE and reps in reserve as a range; words stay words."""

import re
from functools import lru_cache
from typing import NamedTuple

from athletes.reader.cells.numbers import tidy
from athletes.reader.notes import ASK, Note, Notes

NUM = r"\d+(?:[.,]\d+)?"
RANGE = rf"({NUM})(?:\s*(?:-|to|/)\s*({NUM}))?"
LONGEST = 60  # letters of an effort; more is a story
RPE = re.compile(rf"(?:@|rpe|@\s*rpe)?\s*:?\s*{RANGE}\.?\s*(?:\(?rpe\)?)?(\+*)", re.I)
OF_TEN = re.compile(rf"(@?\s*(?:rpe)?\s*:?\s*{NUM})\s*/\s*10(?![\d.,])", re.I)
RIR = re.compile(rf"(?:rir\s*:?\s*{RANGE}|{RANGE}\s*(?:rir|reps? in reserve|in the tank|left))", re.I)


class Effort(NamedTuple):
    """Typed text and the range of reps in reserve it stands for (None: words only)."""

    typed: str = ""
    rir_low: float | None = None
    rir_high: float | None = None
    notes: Notes = ()


def is_rpe(value: float) -> bool:
    """Whether a number after "@" can be an RPE: 1 to 10 in steps of a half."""
    return 1 <= value <= 10 and value * 2 == int(value * 2)


@lru_cache(maxsize=5_000)
def read_effort(text: str, as_rir: bool = False) -> Effort:
    """RPE r means 10 - r reps in reserve; a range is kept as a range; what has no number is kept as typed.

    `as_rir` is set for a column whose heading says reps in reserve.
    """
    text = tidy(text)
    if not text or len(text) > LONGEST:
        return Effort(text[:20])
    found = RIR.fullmatch(text)
    if found:
        return _from_rir(text, found[1] or found[3], found[2] or found[4])
    found = RPE.fullmatch(OF_TEN.sub(r"\1", text))
    if not found:
        return Effort(text[:20])
    if as_rir and "@" not in text and "rpe" not in text.lower():
        return _from_rir(text, found[1], found[2])
    return _from_rpe(text, found[1], found[2])


def _pair(low: str, high: str | None) -> tuple[float, float]:
    a = float(low.replace(",", "."))
    b = float(high.replace(",", ".")) if high else a
    return min(a, b), max(a, b)


def _from_rir(text: str, low: str, high: str | None) -> Effort:
    a, b = _pair(low, high)
    if b > 20:
        return Effort(text[:20], notes=(Note(ASK, f"{text}: more than 20 reps in reserve cannot be meant"),))
    return Effort(text[:20], a, b)


def _from_rpe(text: str, low: str, high: str | None) -> Effort:
    a, b = _pair(low, high)
    if b > 10 or a < 1:
        return Effort(text[:20], notes=(Note(ASK, f"“{text}” is not an RPE from 1 to 10"),))
    return Effort(text[:20], round(10 - b, 2), round(10 - a, 2))
