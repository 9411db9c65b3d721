"""How one file is read: its columns, its marks and orders, and what was answered about it."""

import hashlib
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import NamedTuple

from athletes.reader.cells.dates import DateWays
from athletes.reader.names import People

Answers = dict[str, object]


class Body(NamedTuple):
    """Which tables hold for an athlete, whether they are under 18, and their latest lengths in cm."""

    sex: str = "f"
    young: bool = False
    lengths: Mapping[str, float] = {}


NOBODY = Body()


def digest(*parts: object) -> str:
    """A short name for a reading: the same reading has the same name. A server passes a keyed one instead."""
    return hashlib.sha256("|".join(map(str, parts)).encode()).hexdigest()[:12]


@dataclass(frozen=True)
class ReadingPlan:
    """Everything a row needs to be read; two rows with the same cells and the same plan read the same."""

    headings: tuple[str, ...]
    mapping: tuple[str, ...]
    units: tuple[str, ...]
    people: People
    dates: DateWays
    decimal: str = ""
    unit_in_doubt: bool = False
    athlete: int | None = None
    answers: Answers = field(default_factory=dict)
    bars: dict[str, int] = field(default_factory=dict)
    bodies: dict[int, Body] = field(default_factory=dict)
    mass_in_doubt: bool = False
    token: Callable[..., str] = digest

    @property
    def sets_first(self) -> bool:
        return self.answers.get("sets-reps|file", "sets") == "sets"

    def answer(self, question: str, subject: str = "file") -> object:
        """What was answered, None when nothing was."""
        return self.answers.get(f"{question}|{subject}")


def date_ways(order: str, answers: Answers, today: date) -> DateWays:
    """The file's way with dates from its order and the answers about years and blocks."""
    year = answers.get("year|file")
    start = answers.get("block-start|file")
    return DateWays(
        str(answers.get("date-order|file") or order),
        int(str(year)) if year else None,
        date.fromisoformat(str(start)) if start else None,
        today,
    )
