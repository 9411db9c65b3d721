"""How well readings of one length repeat: technical error of measurement, and when to measure once more.

TEM = sqrt(sum d^2 / 2n) with d the difference of two readings of each of n people; for one person read twice it is
|d| / sqrt(2), and for three readings the spread of one reading about their mean, which is the same for two. Accepted
relative TEM for lengths and breadths by one practised measurer: 1.0 %, a beginner: 1.5 % (Perini et al. 2005, Rev Bras
Med Esporte 11:81-85; Gore et al. in the ISAK handbook; both from memory). Two readings differ by more than
1.96 sqrt(2) TEM = 2.77 TEM once in twenty times.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import sqrt
from statistics import fmean

from athletes.schema.measurements import MeasureKey as Key
from athletes.schema.measurements import measure_label
from athletes.units.lengths import show

RELATIVE_TEM_LIMIT = 0.010  # one practised measurer, from memory
DIFFERENCE_PER_TEM = 2.77  # 1.96 * sqrt(2)
TAPE_STEP_CM = 0.5  # short lengths: nobody reads a tape or a dowel better than this; common practice, no source


@dataclass(frozen=True)
class Repeats:
    """Readings of one measure at one visit, cm: their mean, TEM, and the widest accepted difference of two."""

    key: str
    values: tuple[float, ...]

    @property
    def mean(self) -> float:
        return fmean(self.values)

    @property
    def tem(self) -> float | None:
        """Technical error of measurement in cm (kg); None for a single reading."""
        count = len(self.values)
        if count < 2:
            return None
        return sqrt(sum((v - self.mean) ** 2 for v in self.values) / (count - 1))

    @property
    def relative_tem(self) -> float | None:
        """TEM as percent of the mean."""
        return None if self.tem is None else 100 * self.tem / self.mean

    @property
    def widest_accepted(self) -> float:
        return max(DIFFERENCE_PER_TEM * RELATIVE_TEM_LIMIT * self.mean, TAPE_STEP_CM)

    @property
    def closest_pair_apart(self) -> float:
        """The smallest difference between any two readings, cm; 0 for a single one."""
        ordered = sorted(self.values)
        return min((b - a for a, b in pairwise(ordered)), default=0.0)

    @property
    def asks_for_another(self) -> bool:
        return self.closest_pair_apart > self.widest_accepted + 1e-9


def repeat_question(repeats: Repeats) -> str:
    """Why one more reading is wanted; body mass is weighed once and never asked about twice."""
    if repeats.key == Key.MASS or not repeats.asks_for_another:
        return ""
    apart, limit = show(repeats.key, repeats.closest_pair_apart), show(repeats.key, repeats.widest_accepted)
    lead = f"The readings of {measure_label(repeats.key)} differ by {apart}; careful measuring stays within {limit}."
    return f"{lead} Find the place anew and measure " + ("a third time." if len(repeats.values) < 3 else "again.")


def technical_error(pairs: Sequence[tuple[float, float]]) -> float:
    """TEM = sqrt(sum d^2 / 2n) over pairs of readings, in their unit (formula from memory; Perini et al. 2005)."""
    return sqrt(sum((a - b) ** 2 for a, b in pairs) / (2 * len(pairs)))
