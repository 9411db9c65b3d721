"""Whether two people who measure the same stance agree as well as their stated errors say."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations

from analysis.core.pull.own_posture import EYE_SD, TAPE_SD
from athletes.schema.postures import PostureNote
from athletes.schema.vocabulary import PostureSource

WITHIN_SD = 1.3  # of the stated error of the difference: holds about 0.80 of the pairs when the errors are right
APART_DAYS = 30  # entries further apart may tell of a changed stance
LEAST_LIFTERS = 10


@dataclass(frozen=True, slots=True)
class Agreement:
    """How many lifters and differences were compared, the share within WITHIN_SD, and their rms in stated SD.

    An rms of 1 says that the errors are as stated, of 2 that they are twice as large; share and rms are NaN for none.
    """

    lifters: int
    differences: int
    share: float
    rms: float

    @property
    def enough(self) -> bool:
        """Whether there are lifters enough to judge the stated errors by."""
        return self.lifters >= LEAST_LIFTERS


def agreement(entries: Iterable[Sequence[tuple[object, PostureNote]]]) -> Agreement:
    """Of entries with their authors, one sequence a lifter: every pair by two people in one style, close in time."""
    by_lifter = [found for one in entries if (found := _differences(one))]
    away = [z for found in by_lifter for z in found]
    if not away:
        return Agreement(0, 0, math.nan, math.nan)
    within = sum(abs(z) < WITHIN_SD for z in away)
    return Agreement(len(by_lifter), len(away), within / len(away), math.sqrt(sum(z * z for z in away) / len(away)))


def _differences(entries: Sequence[tuple[object, PostureNote]]) -> list[float]:
    """Differences of stance and toes of one lifter in stated SD of the difference."""
    found = []
    for (first, a), (second, b) in combinations(entries, 2):
        if first == second or a.style != b.style or abs((a.day - b.day).days) > APART_DAYS:
            continue
        for key, name, scale in (("heels", "heels_m", 1.0), ("turnout", "turnout_deg", math.pi / 180.0)):
            pair = getattr(a, name), getattr(b, name)
            if None not in pair:
                found.append((pair[0] - pair[1]) * scale / math.hypot(*(_sd(key, note) for note in (a, b))))
    return found


def _sd(key: str, note: PostureNote) -> float:
    return (TAPE_SD if note.source == PostureSource.TAPE else EYE_SD)[key]
