"""Terms of the vocabularies as people say them, and dates as they are written in sentences."""

from __future__ import annotations

from datetime import date

from athletes.schema.vocabulary import BAR_WORDS, PLACE_WORDS, SEEN_WORDS, STYLE_UNNOTED, Style

STYLE_WORDS: dict[str, str] = {term.value: term.label for term in Style} | {"": STYLE_UNNOTED}


def written_day(day: date) -> str:
    """A day as "25 Nov 2026"."""
    return f"{day.day} {day:%b %Y}"


def counted(number: int, one: str, many: str = "") -> str:
    """A count with its noun: "1 set", "2 sets"; `many` where it is not just an s more."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def in_ten(chance: float) -> str:
    """A chance as "about 7 in 10"."""
    tenths = round(chance * 10)
    if tenths <= 0:
        return "less than 1 in 10"
    return "more than 9 in 10" if tenths >= 10 else f"about {tenths} in 10"


__all__ = ["BAR_WORDS", "PLACE_WORDS", "SEEN_WORDS", "STYLE_WORDS", "counted", "in_ten", "written_day"]
