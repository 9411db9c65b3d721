"""Body masses that cannot all be right: swapped digits, a slipped mark, another unit, another person.

More than 5 % a week asks for a yes (common practice, no source); over longer gaps the room grows, to 25 %
(calibration), so that somebody who was away for a year is not asked about every pound.
"""

from collections.abc import Sequence
from datetime import date
from itertools import pairwise
from typing import NamedTuple

PER_WEEK, MOST = 0.05, 0.25


class Weighing(NamedTuple):
    """A body mass of a day; `subject` names one of the file, "" one of the log; `confirmed` ones are right."""

    day: date
    kg: float
    subject: str = ""
    confirmed: bool = False

    @property
    def is_sure(self) -> bool:
        return self.confirmed or not self.subject


def fits(one: Weighing, other: Weighing) -> bool:
    """Whether two masses can be the same person's on these days."""
    weeks = max(abs((other.day - one.day).days) / 7, 1.0)
    return abs(one.kg - other.kg) <= min(PER_WEEK * weeks, MOST) * max(one.kg, other.kg) + 1e-9


def jumps(weighings: Sequence[Weighing]) -> list[Weighing]:
    """The masses of the file that jump, confirmed ones too; one that the next bears out begins a new level."""
    ordered = sorted(weighings, key=lambda w: w.day)
    odd: list[Weighing] = []
    last: Weighing | None = None
    for at, one in enumerate(ordered):
        if last is None:
            if _stands_alone(ordered, at):
                odd.append(one)
            else:
                last = one
        elif fits(last, one) or (one.is_sure and not one.subject):
            last = one
        else:
            odd.append(one)
            after = ordered[at + 1] if at + 1 < len(ordered) else None
            if one.confirmed or (after is not None and fits(one, after) and not fits(last, after)):
                last = one
    return odd


def _stands_alone(ordered: Sequence[Weighing], at: int) -> bool:
    """Whether the first mass fits none of the two after it, which fit each other."""
    one, after = ordered[at], ordered[at + 1 : at + 3]
    if one.is_sure or len(after) < 2:
        return False
    return not any(fits(one, other) for other in after) and all(fits(a, b) for a, b in pairwise(after))
